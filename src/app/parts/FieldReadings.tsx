import { type ReactElement, useState } from 'react';
import { ITEM_MAPS } from '../../core/plan';
import { sayProblem } from '../../core/words';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { useNames } from '../state/names';
import { usePrinter } from '../state/units';
import { freeId } from '../tools/arrange';
import { ChoiceField } from './ChoiceField';
import { QuantityField } from './QuantityField';
import { Section } from './Section';
import { TextField } from './TextField';

/** Places a crew can put a gauge on, as the commissioning page names them. */
const PLACES = [
  'at the connection',
  'before the regulator',
  'after the regulator',
  'at the far end',
] as const;

/** What the crew read, typed back in: each reading stands beside what was foreseen for its place. */
export function FieldReadings(): ReactElement | null {
  const readings = useDesk((state) => state.history.plan.readings);
  const zones = useDesk((state) => state.design?.supply.zones) ?? [];
  const findings = useDesk((state) => state.design?.findings) ?? [];
  const printer = usePrinter();
  const names = useNames();
  const answers = findings.filter((one) => /^review\.(pressure|flow)-(agrees|differs)$/.test(one.code));
  if (zones.length === 0) return null;
  return (
    <Section title="Read on site" aside={Object.keys(readings).length || ''}>
      {answers.map((answer) => (
        <p
          key={`${answer.code} ${JSON.stringify(answer.params)}`}
          className={answer.severity === 'warn' ? 'refusal' : undefined}
        >
          {sayProblem(answer, printer, names).what}
        </p>
      ))}
      <ul>
        {Object.values(readings).map((reading) => (
          <li key={reading.id} className="line">
            <span>
              Zone {reading.zoneKey}, {reading.place}
            </span>
            <button
              type="button"
              className="act"
              aria-label={`Take back the reading of zone ${reading.zoneKey}, ${reading.place}`}
              onClick={() =>
                edit({ name: 'remove-items', params: { items: [{ map: 'readings', id: reading.id }] } })
              }
            >
              Take back
            </button>
          </li>
        ))}
      </ul>
      <NewReading zoneNumbers={zones.map((zone) => String(zone.number))} />
    </Section>
  );
}

function NewReading({ zoneNumbers }: { readonly zoneNumbers: readonly string[] }): ReactElement {
  const [zoneKey, setZone] = useState(zoneNumbers[0] ?? '1');
  const [place, setPlace] = useState<string>(PLACES[2]);
  const [headM, setHead] = useState<number | null>(null);
  const [flowM3s, setFlow] = useState<number | null>(null);
  const [by, setBy] = useState('');
  const [on, setOn] = useState('');
  const keep = (): void => {
    const { plan } = useDesk.getState().history;
    const id = freeId(plan, ITEM_MAPS, 'reading', new Set());
    const item = { id, on, by, zoneKey, place, headM, flowM3s, remark: '' };
    if (!edit({ name: 'put-item', params: { map: 'readings', item } })) return;
    setHead(null);
    setFlow(null);
  };
  return (
    <details>
      <summary>Type in a reading</summary>
      <ChoiceField
        label="Zone"
        value={zoneKey}
        choices={zoneNumbers.map((number) => [number, number])}
        onChoose={setZone}
      />
      <ChoiceField
        label="Gauge"
        value={place}
        choices={PLACES.map((one) => [one, one])}
        onChoose={setPlace}
      />
      <QuantityField label="Pressure read" measure="pressure" value={headM} onSet={setHead} />
      <QuantityField label="Flow read" measure="flow" value={flowM3s} onSet={setFlow} />
      <TextField label="Read by" value={by} onSet={setBy} />
      <TextField label="Read on" value={on} onSet={setOn} />
      <button type="button" className="mend" disabled={headM === null && flowM3s === null} onClick={keep}>
        <strong>Keep this reading</strong>
      </button>
    </details>
  );
}
