import { type ReactElement, useState } from 'react';
import type { DesignedBed } from '../../core/design';
import { markedRunsOf } from '../../core/layout';
import { ITEM_MAPS } from '../../core/plan';
import type { Zone } from '../../core/supply';
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

const FAR_END = PLACES[3];

/** The same with stub-ups and flush valves, each by bed and run mark where the zone has several: which bed was read decides what the reading means. */
function placesOf(zone: Zone | undefined, beds: readonly DesignedBed[]): readonly string[] {
  const ends = zone?.flush ?? [];
  const watered = beds.filter(({ id }) => zone?.tubing.stubUps.some(({ bedId }) => bedId === id));
  const stubUps =
    watered.length > 1 ? watered.map(({ mark }) => `at the stub-up, ${mark}`) : ['at the stub-up'];
  if (ends.length < 2) return [...PLACES, ...stubUps];
  const marks = beds.flatMap((bed) => markedRunsOf(bed.layout, bed.mark));
  const valves = ends.flatMap(({ runId }) => marks.find(({ run }) => run.id === runId)?.mark ?? []);
  return [
    ...PLACES.filter((place) => place !== FAR_END),
    ...valves.map((mark) => `at flush valve ${mark}`),
    ...stubUps,
  ];
}

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
      <NewReading zones={zones} />
    </Section>
  );
}

function NewReading({ zones }: { readonly zones: readonly Zone[] }): ReactElement {
  const zoneNumbers = zones.map((zone) => String(zone.number));
  const beds = useDesk((state) => state.design?.beds) ?? [];
  const [zoneKey, setZone] = useState(zoneNumbers[0] ?? '1');
  const [place, setPlace] = useState<string>(PLACES[2]);
  const [headM, setHead] = useState<number | null>(null);
  const [flowM3s, setFlow] = useState<number | null>(null);
  const [by, setBy] = useState('');
  const [on, setOn] = useState('');
  const places = placesOf(
    zones.find((zone) => String(zone.number) === zoneKey),
    beds,
  );
  const gauge = places.includes(place) ? place : PLACES[2];
  const keep = (): void => {
    const { plan } = useDesk.getState().history;
    const id = freeId(plan, ITEM_MAPS, 'reading', new Set());
    const item = { id, on, by, zoneKey, place: gauge, headM, flowM3s, remark: '' };
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
        value={gauge}
        choices={places.map((one) => [one, one])}
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
