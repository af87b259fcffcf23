import type { ReactElement } from 'react';
import { multiPolygonAreaM2, nestRings } from '../../core/geometry';
import { type Bed, itemName, type Plan, plantNeedSchema, soilClassSchema, sunSchema } from '../../core/plan';
import { bedOutline } from '../canvas/shape/outline';
import { BedNeeds } from '../parts/BedNeeds';
import { BedOffsets } from '../parts/BedOffsets';
import { ChoiceField } from '../parts/ChoiceField';
import { DrawingSizesFields } from '../parts/DrawingSizesFields';
import { ItemFields } from '../parts/ItemFields';
import { Outlines } from '../parts/Outlines';
import { QuantityField } from '../parts/QuantityField';
import { Reasons } from '../parts/Reasons';
import { Section } from '../parts/Section';
import { UsualFigures } from '../parts/UsualFigures';
import { inCommon } from '../state/alike';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { choose } from '../state/selection';
import { usePrinter } from '../state/units';
import { PLANT_NAMES, SOIL_NAMES, SUN_NAMES } from '../wording';

/** The beds of the plot, and the chosen one edge by edge. */
export function BedsPage(): ReactElement {
  const plan = useDesk((state) => state.history.plan);
  const selection = useDesk((state) => state.selection);
  const only =
    selection.length === 1 && selection[0]?.map === 'beds' ? plan.beds[selection[0].id] : undefined;
  const chosenBeds = selection.filter((item) => item.map === 'beds');
  const isBare = Object.keys(plan.beds).length === 0;
  return (
    <>
      {isBare ? (
        <p className="teach">
          Take up Rectangle and write its size, 12&apos;6 x 20&apos;, or trace an outline corner by corner.
        </p>
      ) : null}
      <DrawingSizesFields />
      <ItemFields />
      {chosenBeds.length > 0 ? <BedChoices plan={plan} ids={chosenBeds.map((item) => item.id)} /> : null}
      {only ? <Outlines item={{ map: 'beds', id: only.id }} /> : null}
      {isBare ? null : <BedList plan={plan} />}
      <UsualFigures of="beds" />
    </>
  );
}

function BedList({ plan }: { readonly plan: Plan }): ReactElement {
  const selection = useDesk((state) => state.selection);
  const printer = usePrinter();
  return (
    <Section title="Beds on this plot">
      <table className="ledger">
        <thead>
          <tr>
            <th scope="col">bed</th>
            <th scope="col">soil</th>
            <th scope="col" className="figure">
              area
            </th>
          </tr>
        </thead>
        <tbody>
          {Object.values(plan.beds).map((bed) => {
            const area = multiPolygonAreaM2(nestRings(bedOutline(bed).rings, 'even-odd'));
            const soil = bed.soil ?? plan.site.soil;
            const isChosen = selection.some((item) => item.map === 'beds' && item.id === bed.id);
            return (
              <tr key={bed.id} className={isChosen ? 'is-chosen' : undefined}>
                <th scope="row">
                  <button
                    type="button"
                    className="plain"
                    onClick={() => choose([{ map: 'beds', id: bed.id }])}
                  >
                    {itemName(plan, 'beds', bed.id)}
                  </button>
                </th>
                <td>{soil ? SOIL_NAMES[soil].toLowerCase() : 'assumed'}</td>
                <td className="figure">{printer.area(area)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <Reasons of={['area']} />
    </Section>
  );
}

/** What the chosen beds hold and stand in; set on one, or on all that are chosen. */
function BedChoices({
  plan,
  ids,
}: {
  readonly plan: Plan;
  readonly ids: readonly string[];
}): ReactElement | null {
  const beds = ids.flatMap((id) => plan.beds[id] ?? []);
  const [bed] = beds;
  if (!bed) return null;
  const isMixed = (field: keyof Bed): boolean => inCommon(beds, field).isMixed;
  const change = (changes: Partial<Bed>): boolean =>
    edit({ name: 'change-items', params: { items: ids.map((id) => ({ map: 'beds', id })), changes } });
  const asSite = ['', 'as the site'] as const;
  return (
    <Section title={ids.length > 1 ? `${ids.length} beds` : 'Ground and plants'}>
      <ChoiceField
        label="Soil"
        value={bed.soil ?? ''}
        isMixed={isMixed('soil')}
        choices={[asSite, ...soilClassSchema.options.map((key) => [key, SOIL_NAMES[key]] as const)]}
        onChoose={(soil) => change({ soil: soil === '' ? null : (soil as Bed['soil']) })}
      />
      <ChoiceField
        label="Plants"
        value={bed.plants ?? ''}
        isMixed={isMixed('plants')}
        choices={[asSite, ...plantNeedSchema.options.map((key) => [key, PLANT_NAMES[key]] as const)]}
        onChoose={(plants) => change({ plants: plants === '' ? null : (plants as Bed['plants']) })}
      />
      <ChoiceField
        label="Sun"
        value={bed.sun ?? ''}
        isMixed={isMixed('sun')}
        choices={[asSite, ...sunSchema.options.map((key) => [key, SUN_NAMES[key]] as const)]}
        onChoose={(sun) => change({ sun: sun === '' ? null : (sun as Bed['sun']) })}
      />
      <QuantityField
        label="Slope"
        measure="share"
        value={bed.slopeRatio}
        isMixed={isMixed('slopeRatio')}
        empty="flat"
        onSet={(slopeRatio) => change({ slopeRatio })}
      />
      <QuantityField
        label="Downhill toward"
        measure="angle"
        value={bed.slopeTowardRad}
        isMixed={isMixed('slopeTowardRad')}
        empty="bearing from north"
        onSet={(slopeTowardRad) => change({ slopeTowardRad })}
      />
      <QuantityField
        label="Keep off all edges"
        measure="spacing"
        value={bed.edgeOffsetM}
        isMixed={isMixed('edgeOffsetM')}
        empty="by kind of edge"
        onSet={(edgeOffsetM) => change({ edgeOffsetM })}
      />
      <BedOffsets beds={beds} />
      <BedNeeds beds={beds} onChange={change} />
    </Section>
  );
}
