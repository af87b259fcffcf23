import { type ReactElement, useMemo } from 'react';
import { typicalCatalog } from '../../core/catalog';
import { drawWays } from '../../core/drawing';
import type { LayoutKind } from '../../core/layout';
import { LAYOUT_NAMES, wayLines, waysWords } from '../../core/words';
import { LOOKS, renderSvg } from '../../render';
import { shownPlan, useDesk } from '../state/desk';
import { usePrinter } from '../state/units';
import { chooseWay, commandsOfWay, compareWithWay, stopComparing, useWays } from '../state/ways';
import { ChoiceField } from './ChoiceField';
import { QuantityField } from './QuantityField';
import { Reasons } from './Reasons';
import { Section } from './Section';

const LAYOUTS: readonly LayoutKind[] = ['loop', 'loop-centre-row', 'strip', 'laterals', 'contour'];

/** Another way for all beds, designed beside the plan and weighed against it. Nothing of it is kept in the plan. */
export function Ways(): ReactElement | null {
  const design = useDesk((state) => state.design);
  const plan = useDesk(shownPlan);
  const ways = useWays();
  if (!design || design.supply.zones.length === 0) return null;
  const isStale = ways.first !== null && ways.first.plan !== plan;
  const canCompare = design.quality === 'finished' && commandsOfWay(plan, ways.choices).length > 0;
  const aside = ways.isWorking
    ? 'being worked out'
    : isStale
      ? 'stale'
      : ways.second?.quality === 'preview'
        ? 'first pass'
        : '';
  return (
    <Section title={waysWords.title} aside={aside}>
      <WayFields />
      {ways.isWorking ? (
        <button type="button" className="act" onClick={stopComparing}>
          Stop
        </button>
      ) : (
        <button type="button" className="act" disabled={!canCompare} onClick={compareWithWay}>
          Compare
        </button>
      )}
      {ways.fault === '' ? null : <p className="refusal">{ways.fault}</p>}
      <Weighed isStale={isStale} />
    </Section>
  );
}

function WayFields(): ReactElement {
  const catalog = useDesk((state) => state.design?.catalog) ?? typicalCatalog;
  const { choices } = useWays();
  return (
    <>
      <QuantityField
        label="Rows in every bed"
        measure="spacing"
        value={choices.rowSpacingM}
        empty="as in the plan"
        onSet={(rowSpacingM) => chooseWay({ rowSpacingM })}
      />
      <ChoiceField
        label="Dripline"
        value={choices.driplineId}
        choices={[['', 'as in the plan'], ...catalog.driplines.map((part) => [part.id, part.name] as const)]}
        onChoose={(driplineId) => chooseWay({ driplineId })}
      />
      <ChoiceField
        label="Layout"
        value={choices.layout}
        choices={[
          ['', 'as in the plan'],
          ...LAYOUTS.map((kind) => [kind, LAYOUT_NAMES[kind] ?? kind] as const),
        ]}
        onChoose={(layout) => chooseWay({ layout: layout as LayoutKind | '' })}
      />
      <ChoiceField
        label="Valves"
        value={choices.zoning}
        choices={[
          ['', 'as in the plan'],
          ['one-valve', 'one for all beds'],
          ['valve-each', 'one for each bed'],
        ]}
        onChoose={(zoning) => chooseWay({ zoning: zoning as '' | 'one-valve' | 'valve-each' })}
      />
    </>
  );
}

const NAMES = { first: 'As planned', second: 'Other way' };

/** The table of both, and their page as it would print. */
function Weighed({ isStale }: { readonly isStale: boolean }): ReactElement | null {
  const { first, second, compared } = useWays();
  const printer = usePrinter();
  const picture = useMemo(() => {
    if (!first || !second || !compared || second.quality !== 'finished') return '';
    const page = drawWays(first, second, compared, NAMES).pages[0];
    return page ? `data:image/svg+xml,${encodeURIComponent(renderSvg(page, LOOKS.print))}` : '';
  }, [first, second, compared]);
  if (!compared) return null;
  return (
    <>
      <table className={isStale ? 'ledger is-stale' : 'ledger'} data-role="ways">
        <thead>
          <tr>
            <td />
            <th scope="col" className="figure">
              {NAMES.first}
            </th>
            <th scope="col" className="figure">
              {NAMES.second}
            </th>
            <th scope="col" className="figure">
              {waysWords.difference}
            </th>
          </tr>
        </thead>
        <tbody>
          {wayLines(compared.first.figures, compared.second.figures, printer).map((line) => (
            <tr key={line.key}>
              <th scope="row">{line.name}</th>
              <td className="figure">{line.first}</td>
              <td className="figure">{line.second}</td>
              <td className="figure">{line.difference}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Reasons of={['ways']} />
      {picture === '' ? null : (
        <a href={picture} download="ways.svg" title={waysWords.title}>
          <img src={picture} alt={waysWords.title} width="100%" />
        </a>
      )}
    </>
  );
}
