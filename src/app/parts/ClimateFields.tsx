import { type ReactElement, useState } from 'react';
import type { Plan } from '../../core/plan';
import { CLIMATE_TABLES, climateTableFor, computeReferenceEt } from '../../core/soilwater';
import { MONTHS, saySource } from '../../core/words';
import { edit } from '../state/edit';
import { usePrinter } from '../state/units';
import { ChoiceField } from './ChoiceField';
import { QuantityField } from './QuantityField';
import { Reasons } from './Reasons';
import { Line, Section } from './Section';
import { TextField } from './TextField';

type Climate = Plan['site']['climate'];

const setClimate = (climate: Climate): boolean =>
  edit({ name: 'set-site', params: { changes: { climate } } });
const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
const NO_YEAR: readonly number[] = MONTHS.map(() => 0);

/** Need of water and rain by month: picked from a table, typed, or computed from the weather. */
export function ClimateFields({ climate }: { readonly climate: Climate }): ReactElement {
  const printer = usePrinter();
  const picked = CLIMATE_TABLES.find((table) => table.place === climate.place);
  return (
    <Section title="Climate" aside={climate.source}>
      <ChoiceField
        label="Reference ET of"
        value={picked && climate.referenceEtM === null ? picked.key : ''}
        choices={[
          ['', climate.referenceEtM ? 'typed below' : 'not picked'],
          ...CLIMATE_TABLES.map((table) => [table.key, table.place] as const),
        ]}
        onChoose={(key) => {
          const table = CLIMATE_TABLES.find((one) => one.key === key);
          if (table)
            setClimate({
              ...climate,
              place: table.place,
              referenceEtM: null,
              source: saySource(table.source),
            });
        }}
      />
      <TextField label="Place" value={climate.place} onSet={(place) => setClimate({ ...climate, place })} />
      <QuantityField
        label="Latitude"
        measure="angle"
        value={climate.latitudeRad}
        empty="north is above 0"
        onSet={(latitudeRad) => setClimate({ ...climate, latitudeRad })}
      />
      {climate.referenceEtM ? (
        <Line name="Reference ET of the year" isWater>
          {printer.water(sum(climate.referenceEtM))}
        </Line>
      ) : null}
      {climate.referenceEtM ? <Reasons of={['yearsEt']} /> : null}
      <Months
        title="Reference ET, month by month"
        values={climate.referenceEtM}
        begun={climateTableFor(climate.place)?.monthlyM}
        onSet={(referenceEtM) =>
          setClimate({ ...climate, referenceEtM, source: climate.source || 'typed by the designer' })
        }
      />
      <Months
        title="Rain, month by month"
        values={climate.rainM}
        onSet={(rainM) => setClimate({ ...climate, rainM })}
      />
      <FromWeather climate={climate} />
    </Section>
  );
}

/** Twelve figures, each set by itself; the others stay as they were begun. */
function Months(props: {
  readonly title: string;
  readonly values: readonly number[] | null;
  readonly begun?: readonly number[] | undefined;
  readonly onSet: (values: number[] | null) => void;
}): ReactElement {
  const start = props.values ?? props.begun ?? NO_YEAR;
  return (
    <details>
      <summary>{props.title}</summary>
      {MONTHS.map((month, index) => (
        <QuantityField
          key={month}
          label={month}
          measure="water"
          value={props.values?.[index] ?? props.begun?.[index] ?? null}
          empty="not said"
          onSet={(value) => props.onSet(start.map((old, at) => (at === index ? (value ?? 0) : old)))}
        />
      ))}
      {props.values ? (
        <button type="button" className="act" onClick={() => props.onSet(null)}>
          Forget these figures
        </button>
      ) : null}
    </details>
  );
}

type Temperatures = readonly (readonly [number | null, number | null])[];

/** Reference ET from the day's warmest and coldest, month by month, where nothing better is known. */
function FromWeather({ climate }: { readonly climate: Climate }): ReactElement {
  const printer = usePrinter();
  const [temperatures, setTemperatures] = useState<Temperatures>(MONTHS.map(() => [null, null]));
  const { latitudeRad, elevationM } = climate;
  const months = temperatures.flatMap(([maxC, minC]) =>
    maxC === null || minC === null
      ? []
      : [
          {
            maxC,
            minC,
            humidity: { kind: 'missing' as const, isArid: false },
            sunlight: { kind: 'missing' as const, isCoastal: false },
            wind: null,
          },
        ],
  );
  const isFull = months.length === 12 && latitudeRad !== null;
  const computed = isFull
    ? computeReferenceEt({ latitudeRad, elevationM: elevationM ?? 0, months }, 'hargreaves')
    : null;
  const set = (index: number, which: 0 | 1, value: number | null): void =>
    setTemperatures(
      temperatures.map((pair, at) =>
        at !== index ? pair : which === 0 ? [value, pair[1]] : [pair[0], value],
      ),
    );
  return (
    <details>
      <summary>Reference ET from temperatures</summary>
      <p className="aside">
        Mean daily highest and lowest of each month, °C, by the Hargreaves formula; it asks for the latitude.
      </p>
      {MONTHS.map((month, index) => (
        <div key={month} className="pair">
          <QuantityField
            label={`${month}, highest`}
            measure="number"
            value={temperatures[index]?.[0] ?? null}
            onSet={(value) => set(index, 0, value)}
          />
          <QuantityField
            label={`${month}, lowest`}
            measure="number"
            value={temperatures[index]?.[1] ?? null}
            onSet={(value) => set(index, 1, value)}
          />
        </div>
      ))}
      {computed && computed.problems.length > 0 ? (
        <p className="refusal">
          A month’s highest lies below its lowest, or outside what the Earth has seen.
        </p>
      ) : null}
      {computed && computed.problems.length === 0 ? (
        <button
          type="button"
          className="mend"
          onClick={() =>
            setClimate({
              ...climate,
              referenceEtM: [...computed.monthlyM],
              source: 'computed from temperatures, FAO-56 equation 52 (Hargreaves)',
            })
          }
        >
          <strong>Take this year</strong>{' '}
          <span className="water">{printer.water(sum(computed.monthlyM))}</span>
        </button>
      ) : null}
    </details>
  );
}
