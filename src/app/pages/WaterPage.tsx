import type { ReactElement } from 'react';
import { type WaterSource, waterKindSchema } from '../../core/plan';
import { ChoiceField } from '../parts/ChoiceField';
import { DrawingSizesFields } from '../parts/DrawingSizesFields';
import { FlowTests } from '../parts/FlowTests';
import { ItemFields } from '../parts/ItemFields';
import { Plots } from '../parts/Plot';
import { PumpFields } from '../parts/PumpFields';
import { QuantityField } from '../parts/QuantityField';
import { Reasons } from '../parts/Reasons';
import { Line, Section } from '../parts/Section';
import { TextField } from '../parts/TextField';
import { UsualFigures } from '../parts/UsualFigures';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { usePrinter } from '../state/units';
import { WATER_NAMES } from '../wording';

/** Where the water comes from and what was measured there. */
export function WaterPage(): ReactElement {
  const source = useDesk((state) => Object.values(state.history.plan.sources)[0]);
  const isDevice = useDesk(({ selection }) =>
    selection.some(({ map }) => map === 'valves' || map === 'controllers'),
  );
  return (
    <>
      <DrawingSizesFields />
      {isDevice ? <ItemFields /> : null}
      {source ? (
        <SourceFields source={source} />
      ) : (
        <p className="teach">
          Place the connection where the tubing will take its water, then write what you measured there.
        </p>
      )}
      <UsualFigures of="water" />
      <p className="caution">
        Water for plants must never run back into drinking water: a backflow preventer stands after the
        connection, of the kind and at the height local code asks for, set and tested by a licensed hand.
        Valves run on low voltage only; anything above is an electrician’s work.
      </p>
    </>
  );
}

function SourceFields({ source }: { readonly source: WaterSource }): ReactElement {
  const change = (changes: Partial<WaterSource>): boolean =>
    edit({ name: 'change-items', params: { items: [{ map: 'sources', id: source.id }], changes } });
  const backflows = useDesk((state) => state.design?.catalog.backflows ?? []);
  return (
    <>
      <Section title="Connection">
        <ChoiceField
          label="Water"
          value={source.water}
          choices={waterKindSchema.options.map((key) => [key, WATER_NAMES[key]] as const)}
          onChoose={(water) => change({ water: water as WaterSource['water'] })}
        />
        <QuantityField
          label="Height over the datum"
          measure="length"
          value={source.elevationM}
          empty="not said"
          onSet={(elevationM) => change({ elevationM })}
        />
        <QuantityField
          label="Meter size"
          measure="spacing"
          value={source.meterSizeM}
          empty="not said"
          onSet={(meterSizeM) => change({ meterSizeM })}
        />
        <QuantityField
          label="Service bore"
          measure="spacing"
          value={source.serviceDiameterM}
          empty="not said"
          onSet={(serviceDiameterM) => change({ serviceDiameterM })}
        />
        <QuantityField
          label="Service length"
          measure="length"
          value={source.serviceLengthM}
          empty="not said"
          onSet={(serviceLengthM) => change({ serviceLengthM })}
        />
        <ChoiceField
          label="Backflow preventer"
          value={source.backflowId ?? ''}
          choices={[['', 'chosen for me'], ...backflows.map((part) => [part.id, part.name] as const)]}
          onChoose={(id) => change({ backflowId: id === '' ? null : id })}
        />
      </Section>
      <PumpFields source={source} />
      <Section title="Pressure with nothing running">
        <QuantityField
          label="Measured"
          measure="pressure"
          value={source.staticHeadM}
          empty="not measured"
          onSet={(staticHeadM) => change({ staticHeadM })}
        />
        <QuantityField
          label="Lowest of the season"
          measure="pressure"
          value={source.lowestStaticHeadM}
          empty="not said"
          onSet={(lowestStaticHeadM) => change({ lowestStaticHeadM })}
        />
        <QuantityField
          label="Highest of the season"
          measure="pressure"
          value={source.highestStaticHeadM}
          empty="not said"
          onSet={(highestStaticHeadM) => change({ highestStaticHeadM })}
        />
      </Section>
      <Section title="While water runs">
        <QuantityField
          label="Flow drawn"
          measure="flow"
          value={source.flowTestM3s}
          empty="not measured"
          onSet={(flowTestM3s) => change({ flowTestM3s })}
        />
        <QuantityField
          label="Pressure then"
          measure="pressure"
          value={source.flowTestHeadM}
          empty="not measured"
          onSet={(flowTestHeadM) => change({ flowTestHeadM })}
        />
        <TextField
          label="Measured by"
          value={source.measuredBy ?? ''}
          onSet={(measuredBy) => change({ measuredBy })}
        />
        <TextField
          label="Measured on"
          value={source.measuredOn ?? ''}
          onSet={(measuredOn) => change({ measuredOn })}
        />
        <FlowTests onFlow={change} />
      </Section>
      <Section title="Pressure at the connection">
        <Plots of="plot-supply" />
        <OperatingLines />
        <Reasons of={['curve', 'asked', 'usable']} />
      </Section>
    </>
  );
}

function OperatingLines(): ReactElement {
  const design = useDesk((state) => state.design);
  const printer = usePrinter();
  return (
    <>
      {(design?.supply.zones ?? []).map((zone) => (
        <Line key={zone.id} name={`Zone ${zone.number} asks ${printer.flow(zone.flowM3s)}`} isWater>
          {printer.pressure(zone.requiredSourceHeadM)} of {printer.pressure(zone.availableSourceHeadM)}
        </Line>
      ))}
    </>
  );
}
