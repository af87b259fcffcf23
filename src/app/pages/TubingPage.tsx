import type { ReactElement } from 'react';
import type { Design, DesignedBed } from '../../core/design';
import { wateringLengthM } from '../../core/layout';
import { type Bed, layoutKindSchema } from '../../core/plan';
import { sayProblem } from '../../core/words';
import { CheckField } from '../parts/CheckField';
import { ChoiceField } from '../parts/ChoiceField';
import { DrawingSizesFields } from '../parts/DrawingSizesFields';
import { OverlayFields } from '../parts/OverlayFields';
import { Plots } from '../parts/Plot';
import { QuantityField } from '../parts/QuantityField';
import { Reasons } from '../parts/Reasons';
import { Line, Section } from '../parts/Section';
import { UsualFigures } from '../parts/UsualFigures';
import { Why } from '../parts/Why';
import { inCommon } from '../state/alike';
import { isTubingStale, useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { useNames } from '../state/names';
import { choose } from '../state/selection';
import { usePrinter } from '../state/units';
import { LAYOUT_NAMES } from '../wording';

/** Tubing of every bed, and of the chosen one its choices and the routes not taken. */
export function TubingPage(): ReactElement {
  const design = useDesk((state) => state.design);
  const selection = useDesk((state) => state.selection);
  const plan = useDesk((state) => state.history.plan);
  const beds = selection.flatMap((item) => (item.map === 'beds' ? (plan.beds[item.id] ?? []) : []));
  const [bed] = beds;
  if (!design || design.beds.length === 0) {
    return (
      <>
        <p className="teach">
          Draw a bed and its tubing stands here: length, emitters, rows and what it leaves dry.
        </p>
        <UsualFigures of="tubing" />
      </>
    );
  }
  return (
    <>
      <DrawingSizesFields />
      <RunTable design={design} />
      {bed ? (
        <BedTubing bed={bed} beds={beds} parts={design.beds.filter((one) => one.sourceBedId === bed.id)} />
      ) : (
        <p className="faint">Choose a bed to change its tubing.</p>
      )}
      <OverlayFields />
      <UsualFigures of="tubing" />
    </>
  );
}

function RunTable({ design }: { readonly design: Design }): ReactElement {
  const printer = usePrinter();
  const stale = useDesk(isTubingStale);
  const selection = useDesk((state) => state.selection);
  return (
    <Section title="Beds" aside={stale ? 'stale' : design.quality === 'preview' ? 'first pass' : 'live'}>
      <table className={stale ? 'ledger is-stale' : 'ledger'}>
        <thead>
          <tr>
            <th scope="col">bed</th>
            <th scope="col" className="figure">
              tubing
            </th>
            <th scope="col" className="figure">
              emitters
            </th>
            <th scope="col" className="figure">
              rows
            </th>
            <th scope="col" className="figure">
              reached
            </th>
          </tr>
        </thead>
        <tbody>
          {design.beds.map((bed) => (
            <tr
              key={bed.id}
              className={selection.some((item) => item.id === bed.sourceBedId) ? 'is-chosen' : undefined}
            >
              <th scope="row">
                <button
                  type="button"
                  className="plain"
                  onClick={() => choose([{ map: 'beds', id: bed.sourceBedId }])}
                >
                  {bed.mark}
                </button>
              </th>
              <td className="figure" data-role={`tubing-${bed.sourceBedId}`}>
                {printer.tubing(wateringLengthM(bed.layout.runs))}
              </td>
              <td className="figure">
                {bed.layout.runs.reduce((sum, run) => sum + run.emittersM.length, 0)}
              </td>
              <td className="figure">{printer.small(bed.layout.rowSpacingM)}</td>
              <td className="figure">{printer.percent(bed.layout.coverage.coveredRatio)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Reasons of={['tubing', 'emitters', 'rows', 'reached']} />
    </Section>
  );
}

/** What the chosen beds are laid with, set on one or on all of them; of one alone also the routes not taken, and why. */
function BedTubing({
  bed,
  beds,
  parts,
}: {
  readonly bed: Bed;
  readonly beds: readonly Bed[];
  readonly parts: readonly DesignedBed[];
}): ReactElement {
  const printer = usePrinter();
  const names = useNames();
  const driplines = useDesk((state) => state.design?.catalog.driplines ?? []);
  const isOne = beds.length === 1;
  const part = isOne ? parts[0] : undefined;
  const isMixed = (field: keyof Bed): boolean => inCommon(beds, field).isMixed;
  const change = (changes: Partial<Bed>): boolean =>
    edit(
      isOne
        ? { name: 'set-bed', params: { id: bed.id, changes } }
        : { name: 'change-items', params: { items: beds.map(({ id }) => ({ map: 'beds', id })), changes } },
    );
  return (
    <>
      <Section
        title={isOne ? `Bed ${part?.mark ?? bed.name}` : `${beds.length} beds`}
        aside={isOne && bed.lockedRoute ? 'route locked by hand' : undefined}
      >
        <ChoiceField
          label="Dripline"
          isLong
          value={bed.driplineId ?? ''}
          isMixed={isMixed('driplineId')}
          choices={[
            ['', part ? `for me: ${part.choice.dripline.name}` : 'chosen for me'],
            ...driplines.map((one) => [one.id, one.name] as const),
          ]}
          onChoose={(id) => change({ driplineId: id === '' ? null : id })}
        />
        <ChoiceField
          label="Layout"
          isLong
          value={bed.layout ?? ''}
          isMixed={isMixed('layout')}
          choices={[
            ['', part ? `for me: ${LAYOUT_NAMES[part.layout.layout]}` : 'the fittest'],
            ...layoutKindSchema.options.map((key) => [key, LAYOUT_NAMES[key]] as const),
          ]}
          onChoose={(layout) =>
            change({ layout: layout === '' ? null : (layout as Bed['layout']), alternative: null })
          }
        />
        <QuantityField
          label="Row spacing"
          measure="spacing"
          value={bed.rowSpacingM}
          isMixed={isMixed('rowSpacingM')}
          empty={part ? printer.small(part.layout.nominalRowSpacingM) : ''}
          onSet={(rowSpacingM) => change({ rowSpacingM })}
        />
        <QuantityField
          label="Rows run at"
          measure="angle"
          value={bed.rowDirectionRad}
          isMixed={isMixed('rowDirectionRad')}
          empty="chosen for me"
          onSet={(rowDirectionRad) => change({ rowDirectionRad })}
        />
        <QuantityField
          label="Longest loop"
          measure="length"
          value={bed.maxRunM}
          isMixed={isMixed('maxRunM')}
          empty={part ? printer.length(part.runLimitM) : ''}
          onSet={(maxRunM) => change({ maxRunM })}
        />
        <QuantityField
          label="Rows may widen by"
          measure="share"
          value={bed.rowStretchRatio}
          isMixed={isMixed('rowStretchRatio')}
          empty="as usual"
          onSet={(rowStretchRatio) => change({ rowStretchRatio })}
        />
        <QuantityField
          label="Tightest bend"
          measure="spacing"
          value={bed.bendRadiusM}
          isMixed={isMixed('bendRadiusM')}
          empty="by the tubing"
          onSet={(bendRadiusM) => change({ bendRadiusM })}
        />
        <Reasons of={['rows', 'limit']} />
        <CheckField
          label="Stagger emitters from row to row"
          isOn={bed.staggered}
          isMixed={isMixed('staggered')}
          onTurn={(staggered) => change({ staggered })}
        />
        <CheckField
          label="A ring round each tree"
          isOn={bed.treeRings}
          isMixed={isMixed('treeRings')}
          onTurn={(treeRings) => change({ treeRings })}
        />
      </Section>
      {part ? <Alternatives bed={bed} part={part} /> : null}
      {part ? (
        <Section title="Why this tubing">
          {part.choice.reasons.map((reason) => (
            <p key={reason.code + JSON.stringify(reason.params)}>{sayProblem(reason, printer, names).what}</p>
          ))}
          {part.choice.traces.map((trace) => (
            <Why key={trace.code} trace={trace} />
          ))}
          <Plots of={`plot-section-${part.id}`} isTitled />
          <Line name="Checked by the verifier">
            {part.layout.verified.passed ? 'passed' : part.layout.verified.failures.join(', ')}
          </Line>
        </Section>
      ) : null}
    </>
  );
}

/** The choices not taken, with the figures to weigh them by; a press takes one. */
function Alternatives({ bed, part }: { readonly bed: Bed; readonly part: DesignedBed }): ReactElement | null {
  const printer = usePrinter();
  const { alternatives, chosen } = part.layout;
  if (alternatives.length === 0) return null;
  return (
    <Section
      title="Side by side"
      aside={alternatives.length === 1 ? '1 route' : `${alternatives.length} routes`}
    >
      <table className="ledger">
        <thead>
          <tr>
            <th scope="col">layout</th>
            <th scope="col" className="figure">
              tubing
            </th>
            <th scope="col" className="figure">
              turns
            </th>
            <th scope="col" className="figure">
              reached
            </th>
          </tr>
        </thead>
        <tbody>
          {alternatives.slice(0, 8).map((one) => (
            <tr key={one.key} className={one.key === chosen ? 'is-chosen' : undefined}>
              <th scope="row">
                <button
                  type="button"
                  className="plain"
                  disabled={!one.valid}
                  onClick={() =>
                    edit({ name: 'set-bed', params: { id: bed.id, changes: { alternative: one.key } } })
                  }
                >
                  {LAYOUT_NAMES[one.layout]}, {Math.round((one.directionRad * 180) / Math.PI)}°
                </button>
              </th>
              <td className="figure">{printer.tubing(one.lengthM)}</td>
              <td className="figure">{one.turns}</td>
              <td className="figure">{printer.percent(one.coverage.coveredRatio)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Reasons of={['tubing', 'turns', 'reached']} />
    </Section>
  );
}
