import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { ReactElement } from 'react';
import { HEAD_M_PER_KPA, HEAD_M_PER_PSI, M3S_PER_GPM, M3S_PER_LPS } from '../../core/units';
import { useDesk } from '../state/desk';
import { usePrinter } from '../state/units';

const WIDTH = 300;
const HEIGHT = 168;
const LEFT = 34;
const BOTTOM = 28;
const TOP = 16;

/** Labels nearer than this would run into one another, CSS pixels. */
const LABEL_WIDE_PX = 16;
const LABEL_HIGH_PX = 13;

/** What stands under each point: its name, with those of later points too near to be read apart, which then have none. */
export function labelsOf(
  points: readonly { readonly name: string; readonly x: number; readonly y: number }[],
): readonly string[] {
  const labels: string[] = [];
  points.forEach((point, index) => {
    const first = points.findIndex(
      (other, before) =>
        before < index &&
        labels[before] !== '' &&
        Math.abs(other.x - point.x) < LABEL_WIDE_PX &&
        Math.abs(other.y - point.y) < LABEL_HIGH_PX,
    );
    if (first >= 0) labels[first] += `, ${point.name}`;
    labels.push(first >= 0 ? '' : point.name);
  });
  return labels;
}

/** Available pressure against flow, with the point where each zone runs hanging from what it asks to what there is. */
export function PressurePlot(): ReactElement {
  const supply = useDesk((state) => state.design?.supply);
  const printer = usePrinter();
  const isUs = printer.system === 'us';
  const [flowUnit, headUnit] = isUs ? [M3S_PER_GPM, HEAD_M_PER_PSI] : [M3S_PER_LPS / 60, HEAD_M_PER_KPA];
  const curve = supply?.sourceCurve ?? [];
  if (curve.length === 0)
    return <p className="faint">The curve stands here once pressure and flow are measured.</p>;
  const zones = supply?.zones ?? [];
  const most = Math.max(...curve.map((one) => one.flowM3s), ...zones.map((zone) => zone.flowM3s)) / flowUnit;
  const high = Math.max(...curve.map((one) => one.headM)) / headUnit;
  const x = scaleLinear([0, most], [LEFT, WIDTH - 8]).nice(4);
  const y = scaleLinear([0, high], [HEIGHT - BOTTOM, TOP]).nice(4);
  const path = line<(typeof curve)[number]>(
    (one) => x(one.flowM3s / flowUnit),
    (one) => y(Math.max(0, one.headM) / headUnit),
  )(curve);
  const labels = labelsOf(
    zones.map((zone) => ({
      name: String(zone.number),
      x: x(zone.flowM3s / flowUnit),
      y: y(zone.requiredSourceHeadM / headUnit),
    })),
  );
  const usable = supply?.usableFlowM3s;
  return (
    <svg
      className="plot"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      width={WIDTH}
      height={HEIGHT}
      role="img"
      aria-label="Available pressure against flow"
    >
      {y.ticks(4).map((tick) => (
        <g key={tick}>
          <line x1={LEFT} x2={WIDTH - 8} y1={y(tick)} y2={y(tick)} className="plot-grid" />
          <text x={LEFT - 6} y={y(tick) + 4} textAnchor="end">
            {tick}
          </text>
        </g>
      ))}
      {x.ticks(5).map((tick) => (
        <text key={tick} x={x(tick)} y={HEIGHT - BOTTOM + 15} textAnchor="middle">
          {tick}
        </text>
      ))}
      <text x={4} y={10}>
        {isUs ? 'psi' : 'kPa'}
      </text>
      <text x={WIDTH - 8} y={HEIGHT - 1} textAnchor="end">
        {isUs ? 'gpm' : 'L/min'}
      </text>
      {usable ? (
        <line
          x1={x(usable / flowUnit)}
          x2={x(usable / flowUnit)}
          y1={TOP}
          y2={HEIGHT - BOTTOM}
          className="plot-limit"
        />
      ) : null}
      <path d={path ?? ''} className="plot-curve" />
      {zones.map((zone, index) => {
        const at = x(zone.flowM3s / flowUnit);
        return (
          <g key={zone.id} className="plot-zone">
            <line
              x1={at}
              x2={at}
              y1={y(zone.availableSourceHeadM / headUnit)}
              y2={y(zone.requiredSourceHeadM / headUnit)}
            />
            <circle cx={at} cy={y(zone.availableSourceHeadM / headUnit)} r={3.5} />
            {labels[index] === '' ? null : (
              <text x={at} y={y(zone.requiredSourceHeadM / headUnit) + 14} textAnchor="middle">
                {labels[index]}
              </text>
            )}
          </g>
        );
      })}
    </svg>
  );
}
