import type { ReactElement } from 'react';
import type { Design } from '../../core/design';
import { wateringLengthM } from '../../core/layout';
import type { ItemMap } from '../../core/plan';
import { METRES_PER_FOOT } from '../../core/units';
import { sayProblem } from '../../core/words';
import { DrawingSizesFields } from '../parts/DrawingSizesFields';
import { ItemFields } from '../parts/ItemFields';
import { Plots } from '../parts/Plot';
import { Reasons } from '../parts/Reasons';
import { Line, Section } from '../parts/Section';
import { UsualFigures } from '../parts/UsualFigures';
import { Why } from '../parts/Why';
import { isStale, useDesk } from '../state/desk';
import { useNames } from '../state/names';
import { choose } from '../state/selection';
import { usePrinter } from '../state/units';

/** What is drawn by hand between the connection and the beds; beds themselves are changed on their own pages. */
const PIPEWORK: ReadonlySet<ItemMap> = new Set<ItemMap>(['lockedPipes', 'valves', 'controllers']);

/** Which beds run together and why, what each asks of the water, and what pipes carry it. */
export function ZonesPage(): ReactElement {
  const design = useDesk((state) => state.design);
  const isPipework = useDesk(({ selection }) => selection.some(({ map }) => PIPEWORK.has(map)));
  if (!design || design.supply.zones.length === 0) {
    return (
      <>
        <DrawingSizesFields />
        {isPipework ? <ItemFields /> : null}
        <p className="teach">
          Once a bed has tubing and the connection has its place, beds are grouped into zones here.
        </p>
        <UsualFigures of="zones" />
      </>
    );
  }
  return (
    <>
      <DrawingSizesFields />
      {isPipework ? <ItemFields /> : null}
      <Runs design={design} />
      <Together design={design} />
      <Section title="Pressure at the connection">
        <Plots of="plot-supply" />
        <Reasons of={['curve', 'asked', 'usable']} />
      </Section>
      <Section title="Plots by zone">
        <Plots of="plot-run" isTitled />
        <Plots of="plot-season" isTitled />
        <Reasons of={['lowest', 'season']} />
      </Section>
      <Pipes design={design} />
      <UsualFigures of="zones" />
      <Section title="Figures">
        {design.supply.zones.map((zone) =>
          zone.traces.map((trace) => <Why key={`${zone.id} ${trace.code} ${trace.formula}`} trace={trace} />),
        )}
      </Section>
    </>
  );
}

/** One line a bed: what it holds and the least pressure in it. */
function Runs({ design }: { readonly design: Design }): ReactElement {
  const printer = usePrinter();
  const stale = useDesk(isStale);
  const selection = useDesk((state) => state.selection);
  const isUs = printer.system === 'us';
  const bare = (text: string): string => text.replace(/ .*$/, '');
  const unit = (text: string): string => text.replace(/^\S+ /, '');
  return (
    <Section
      title="Runs"
      aside={stale ? 'stale' : design.quality === 'preview' ? 'first pass' : 'live, all settled'}
    >
      <table className={stale ? 'ledger is-stale' : 'ledger'}>
        <thead>
          <tr>
            <td />
            <th scope="col" className="figure">
              tubing {isUs ? 'ft' : 'm'}
            </th>
            <th scope="col" className="figure">
              emitters
            </th>
            <th scope="col" className="figure water">
              {unit(printer.flow(0))}
            </th>
            <th scope="col" className="figure water">
              lowest {unit(printer.pressure(0))}
            </th>
          </tr>
        </thead>
        {design.supply.zones.map((zone) => {
          const beds = design.beds.filter((bed) => bed.zoneId === zone.id);
          const total = beds.reduce((sum, bed) => sum + wateringLengthM(bed.layout.runs), 0);
          return (
            <tbody key={zone.id}>
              <tr>
                <th scope="rowgroup" colSpan={5} className="zone-head">
                  Zone {zone.number} <span className="aside">{zone.name}</span>
                </th>
              </tr>
              {beds.map((bed) => (
                <tr
                  key={bed.id}
                  className={selection.some((item) => item.id === bed.sourceBedId) ? 'is-chosen' : undefined}
                >
                  <th scope="row">
                    <button
                      type="button"
                      className="plain mark"
                      onClick={() => choose([{ map: 'beds', id: bed.sourceBedId }])}
                    >
                      {bed.mark}
                    </button>
                  </th>
                  <td className="figure" data-role={`tubing-${bed.sourceBedId}`}>
                    {bare(printer.tubing(wateringLengthM(bed.layout.runs)))}
                  </td>
                  <td className="figure">
                    {bed.layout.runs.reduce((sum, run) => sum + run.emittersM.length, 0)}
                  </td>
                  <td className="figure water">{bare(printer.flow(flowOf(zone, bed.layout.runs)))}</td>
                  <td className="figure water" data-role={`lowest-${bed.sourceBedId}`}>
                    {bare(printer.pressure(lowestOf(zone, bed.layout.runs)))}
                  </td>
                </tr>
              ))}
              <tr className="total">
                <th scope="row">Zone {zone.number}</th>
                <td className="figure">{bare(printer.tubing(total))}</td>
                <td className="figure">{zone.emitters.headM.length}</td>
                <td className="figure water">{bare(printer.flow(zone.flowM3s))}</td>
                <td className="figure water">{bare(printer.pressure(zone.emitterHeadM.min))}</td>
              </tr>
            </tbody>
          );
        })}
      </table>
      <Reasons of={['tubing', 'emitters', 'flow', 'lowest']} />
    </Section>
  );
}

type Runs = Design['beds'][number]['layout']['runs'];
type Zone = Design['supply']['zones'][number];

function overEmitters(zone: Zone, runs: Runs, take: (index: number) => void): void {
  const own = new Set(runs.map((run) => run.id));
  zone.emitters.run.forEach((run, index) => {
    if (own.has(zone.emitters.runIds[run] ?? '')) take(index);
  });
}
function flowOf(zone: Zone, runs: Runs): number {
  let sum = 0;
  overEmitters(zone, runs, (index) => {
    sum += zone.emitters.flowM3s[index] ?? 0;
  });
  return sum;
}
function lowestOf(zone: Zone, runs: Runs): number {
  let low = Number.POSITIVE_INFINITY;
  overEmitters(zone, runs, (index) => {
    low = Math.min(low, zone.emitters.headM[index] ?? low);
  });
  return Number.isFinite(low) ? low : 0;
}

/** Why these beds run together, zone by zone. */
function Together({ design }: { readonly design: Design }): ReactElement {
  const printer = usePrinter();
  const names = useNames();
  return (
    <Section title="Why these run together">
      {design.supply.zones.map((zone) => (
        <div key={zone.id}>
          <Line name={`Zone ${zone.number}: ${zone.assembly.name}`} isWater>
            {printer.pressure(zone.assembly.regulatedHeadM)}
          </Line>
          {zone.why.map((reason) => (
            <p key={reason.code + JSON.stringify(reason.params)}>{sayProblem(reason, printer, names).what}</p>
          ))}
          <Line name="Evenness of emitters">{printer.percent(zone.distributionUniformity)}</Line>
        </div>
      ))}
      <Reasons of={['regulated', 'evenness']} />
    </Section>
  );
}

function Pipes({ design }: { readonly design: Design }): ReactElement {
  const printer = usePrinter();
  const pipes = [...design.supply.main, ...design.supply.zones.flatMap((zone) => zone.pipes)].filter(
    (pipe) => pipe.lengthM > METRES_PER_FOOT / 2,
  );
  return (
    <Section title="Pipes">
      <table className="ledger">
        <thead>
          <tr>
            <th scope="col">pipe</th>
            <th scope="col" className="figure">
              length
            </th>
            <th scope="col" className="figure water">
              flow
            </th>
            <th scope="col" className="figure water">
              speed
            </th>
          </tr>
        </thead>
        <tbody>
          {pipes.map((pipe) => (
            <tr key={pipe.id}>
              <th scope="row">
                {pipe.role} {pipe.pipe.nominal}
                {pipe.locked ? <span className="aside"> by hand</span> : null}
              </th>
              <td className="figure">{printer.tubing(pipe.lengthM)}</td>
              <td className="figure water">{printer.flow(pipe.flowM3s)}</td>
              <td className="figure water">{printer.velocity(pipe.velocityMs)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Reasons of={['pipeLength', 'pipeFlow', 'speed']} />
    </Section>
  );
}
