import { type ReactElement, useState } from 'react';
import type { WaterSource } from '../../core/plan';
import { say } from '../state/desk';
import { edit } from '../state/edit';
import { QuantityField } from './QuantityField';
import { Section } from './Section';

type Point = NonNullable<WaterSource['pumpCurve']>[number];

/** Flow ascending, pressure never rising with it: what a pump can do. */
const isCurve = (points: readonly Point[]): boolean =>
  points.every(({ flowM3s, headM }, index) => {
    const before = points[index - 1];
    return before === undefined || (flowM3s > before.flowM3s && headM <= before.headM);
  });

/** A pump's curve point by point, and the pressure its switch lets it fall to. */
export function PumpFields({ source }: { readonly source: WaterSource }): ReactElement | null {
  const [next, setNext] = useState<Partial<Point>>({});
  const isPumped = source.water === 'well' || source.water === 'tank';
  if (!isPumped && source.pumpCurve === null && source.pumpCutInHeadM === null) return null;
  const points = source.pumpCurve ?? [];
  const change = (changes: Partial<WaterSource>): boolean =>
    edit({ name: 'change-items', params: { items: [{ map: 'sources', id: source.id }], changes } });
  const set = (changed: readonly Point[]): boolean => {
    const sorted = [...changed].sort((a, b) => a.flowM3s - b.flowM3s);
    if (isCurve(sorted)) return change({ pumpCurve: sorted.length === 0 ? null : sorted });
    say('At more flow a pump gives no more pressure.', 'warn', 'Look at the two figures once more.');
    return false;
  };
  const begin = (given: Partial<Point>): void => {
    const { flowM3s, headM } = { ...next, ...given };
    const isWhole = flowM3s !== undefined && headM !== undefined;
    setNext(isWhole && set([...points, { flowM3s, headM }]) ? {} : { ...next, ...given });
  };
  return (
    <Section title="Pump" aside={points.length === 0 ? 'no curve yet' : `${points.length} points`}>
      <QuantityField
        label="Cuts in at"
        measure="pressure"
        value={source.pumpCutInHeadM}
        empty="not said"
        onSet={(pumpCutInHeadM) => change({ pumpCutInHeadM })}
      />
      {points.map((point, index) => (
        <PointFields
          // biome-ignore lint/suspicious/noArrayIndexKey: a point has no name but its place on the curve
          key={index}
          number={index + 1}
          point={point}
          onSet={(changed) =>
            set(points.flatMap((one, at) => (at === index ? (changed === null ? [] : [changed]) : [one])))
          }
        />
      ))}
      <QuantityField
        label={`Point ${points.length + 1}, flow`}
        measure="flow"
        value={next.flowM3s ?? null}
        empty={points.length === 0 ? '0 with all taps shut' : 'one more'}
        onSet={(flowM3s) => (flowM3s === null ? setNext({}) : begin({ flowM3s }))}
      />
      <QuantityField
        label={`Point ${points.length + 1}, pressure`}
        measure="pressure"
        value={next.headM ?? null}
        empty="from the pump’s sheet"
        onSet={(headM) => (headM === null ? setNext({}) : begin({ headM }))}
      />
    </Section>
  );
}

/** Clearing the flow of a point takes the point away. */
function PointFields(props: {
  readonly number: number;
  readonly point: Point;
  readonly onSet: (point: Point | null) => void;
}): ReactElement {
  const { number, point, onSet } = props;
  return (
    <>
      <QuantityField
        label={`Point ${number}, flow`}
        measure="flow"
        value={point.flowM3s}
        onSet={(flowM3s) => onSet(flowM3s === null ? null : { ...point, flowM3s })}
      />
      <QuantityField
        label={`Point ${number}, pressure`}
        measure="pressure"
        value={point.headM}
        onSet={(headM) => onSet(headM === null ? null : { ...point, headM })}
      />
    </>
  );
}
