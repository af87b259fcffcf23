import type { SupplyDesign, Zone } from '../supply';
import type { UnitSystem } from '../units';
import { plotWords } from '../words';
import type { Block, PaperRect } from './blocks';
import type { PrintedNames } from './names';
import { lineItem, pathItem, polylineSteps, SIZE, stroke, textItem, WEIGHT } from './pen';
import { inkOf, segmentEnters, textBox } from './placement/ink';
import { PLOT_MARK, PLOT_UNITS, type PlotField, plotBlock, plotField } from './plotAxes';
import { squareSteps } from './plotsWater';
import type { DrawingItem } from './types';

/** Pressure at each emitter of one run, in the order of the run. */
export interface RunProfile {
  readonly runId: string;
  readonly points: readonly { readonly distanceM: number; readonly headM: number }[];
}

/** The run with most emitters of a zone, with its pressures; undefined where the zone was not solved. */
export function longestRunProfile(zone: Pick<Zone, 'emitters'>): RunProfile | undefined {
  const { run, runIds, distanceM, headM } = zone.emitters;
  const profiles = runIds.map((runId, wanted): RunProfile => {
    const points: { distanceM: number; headM: number }[] = [];
    for (let index = 0; index < run.length; index += 1)
      if (run[index] === wanted) points.push({ distanceM: distanceM[index] ?? 0, headM: headM[index] ?? 0 });
    return { runId, points: points.sort((a, b) => a.distanceM - b.distanceM) };
  });
  const [longest] = profiles.sort((a, b) => b.points.length - a.points.length);
  return longest === undefined || longest.points.length < 2 ? undefined : longest;
}

/** Pressure along a run with its lowest place marked, and the least its emitters want as dashes. */
export function runItems(
  profile: RunProfile,
  leastHeadM: number,
  system: UnitSystem,
  rect: PaperRect,
): readonly DrawingItem[] {
  const units = PLOT_UNITS[system];
  const heads = profile.points.map((point) => point.headM);
  const field = plotField(
    rect,
    {
      from: 0,
      to: profile.points.at(-1)?.distanceM ?? 1,
      unit: units.length,
      label: plotWords.alongRun(units.length.name),
      isWater: false,
    },
    {
      from: Math.min(0, ...heads),
      to: Math.max(leastHeadM, ...heads) * 1.1,
      unit: units.head,
      label: plotWords.pressure(units.head.name),
    },
  );
  const lowest = profile.points.reduce((low, point) => (point.headM < low.headM ? point : low));
  const y = field.y(leastHeadM);
  return [
    ...field.items,
    lineItem(
      PLOT_MARK,
      { x: field.frame.x, y },
      { x: field.frame.x + field.frame.widthMm, y },
      stroke('ink-2', WEIGHT.thin, { dashMm: [1.6, 1] }),
    ),
    pathItem(
      PLOT_MARK,
      polylineSteps(
        profile.points.map((point) => ({ x: field.x(point.distanceM), y: field.y(point.headM) })),
      ),
      { stroke: stroke('water', WEIGHT.bold, { join: 'round' }) },
    ),
    pathItem(PLOT_MARK, squareSteps(field.x(lowest.distanceM), field.y(lowest.headM)), { fill: 'water' }),
  ];
}

/** Where squares stand closer than this, one figure names them all. */
const BESIDE_MM = 3.5;

/** Places of a figure round its square, the first liked best: from the square's middle to the baseline. */
const FIGURE_PLACES = [
  { dx: 2, dy: 2.9, anchor: 'start' },
  { dx: 2, dy: -1.2, anchor: 'start' },
  { dx: -2, dy: 2.9, anchor: 'end' },
  { dx: -2, dy: -1.2, anchor: 'end' },
  { dx: 0, dy: 4.4, anchor: 'middle' },
  { dx: 0, dy: -2.4, anchor: 'middle' },
  { dx: 2, dy: 5.2, anchor: 'start' },
  { dx: 2, dy: -3.6, anchor: 'start' },
] as const;

/** What the plot says of a zone. */
type SuppliedZone = Pick<Zone, 'number' | 'flowM3s' | 'requiredSourceHeadM' | 'availableSourceHeadM'>;

/** Where each zone runs on the curve, an open square, tied by a thin line to what it needs there: the line is the margin. */
function operatingPoints(zones: readonly SuppliedZone[], field: PlotField): readonly DrawingItem[] {
  return zones.flatMap((zone) => {
    const x = field.x(zone.flowM3s);
    const at = field.y(zone.availableSourceHeadM);
    const needed = field.y(zone.requiredSourceHeadM);
    return [
      lineItem(PLOT_MARK, { x, y: at }, { x, y: needed }, stroke('ink-2', WEIGHT.thin)),
      pathItem(PLOT_MARK, squareSteps(x, at), { fill: 'leaf', stroke: stroke('water', WEIGHT.mid) }),
    ];
  });
}

/** A square a zone; zones whose squares touch share one figure, "1, 2", set clear of everything drawn. */
function zoneMarks(
  zones: readonly SuppliedZone[],
  field: PlotField,
  drawn: readonly DrawingItem[],
): readonly DrawingItem[] {
  const groups: { x: number; y: number; numbers: number[] }[] = [];
  const squares = zones.map((zone): DrawingItem => {
    const x = field.x(zone.flowM3s);
    const y = field.y(zone.requiredSourceHeadM);
    const near = groups.find((group) => Math.hypot(group.x - x, group.y - y) < BESIDE_MM);
    if (near === undefined) groups.push({ x, y, numbers: [zone.number] });
    else near.numbers.push(zone.number);
    return pathItem(PLOT_MARK, squareSteps(x, y), { fill: 'ink' });
  });
  const lines = inkOf([...drawn, ...squares]).segments;
  const figures = groups.map((group) => {
    const ways = FIGURE_PLACES.map(({ dx, dy, anchor }) =>
      textItem(PLOT_MARK, { x: group.x + dx, y: group.y + dy }, group.numbers.join(', '), {
        sizeMm: SIZE.small,
        anchor,
      }),
    );
    const isClear = (way: DrawingItem): boolean =>
      way.kind === 'text' && !lines.some((line) => segmentEnters(textBox(way), line, -0.2));
    return ways.find(isClear) ?? ways[0]!;
  });
  return [...squares, ...figures];
}

/** An upright line of dashes at the flow that zones may count on. */
function usableLine(flowM3s: number | null, field: PlotField): readonly DrawingItem[] {
  if (flowM3s === null) return [];
  const x = field.x(flowM3s);
  const { y, heightMm } = field.frame;
  const dashes = stroke('ink-2', WEIGHT.thin, { dashMm: [1.6, 1] });
  return [lineItem(PLOT_MARK, { x, y }, { x, y: y + heightMm }, dashes)];
}

/** What the source gives against flow, where each zone runs on it, and what the zone needs of it. */
export function supplyItems(
  supply: Pick<SupplyDesign, 'sourceCurve' | 'usableFlowM3s'> & {
    readonly zones: readonly SuppliedZone[];
  },
  system: UnitSystem,
  rect: PaperRect,
): readonly DrawingItem[] {
  const units = PLOT_UNITS[system];
  const curve = supply.sourceCurve.filter((point) => point.headM >= 0);
  const field = plotField(
    rect,
    {
      from: 0,
      to: Math.max(
        supply.usableFlowM3s ?? 0,
        ...curve.map((point) => point.flowM3s),
        ...supply.zones.map((zone) => zone.flowM3s),
      ),
      unit: units.flow,
      label: plotWords.flow(units.flow.name),
      isWater: true,
    },
    {
      from: 0,
      to: Math.max(
        ...curve.map((point) => point.headM),
        ...supply.zones.map((zone) => Math.max(zone.requiredSourceHeadM, zone.availableSourceHeadM)),
      ),
      unit: units.head,
      label: plotWords.pressure(units.head.name),
    },
  );
  const drawn = [
    ...field.items,
    pathItem(
      PLOT_MARK,
      polylineSteps(curve.map((point) => ({ x: field.x(point.flowM3s), y: field.y(point.headM) }))),
      { stroke: stroke('water', WEIGHT.bold, { join: 'round' }) },
    ),
    ...usableLine(supply.usableFlowM3s, field),
    ...operatingPoints(supply.zones, field),
  ];
  return [...drawn, ...zoneMarks(supply.zones, field, drawn)];
}

/** Pressure along a zone's longest run as a block, or null where it was not solved. */
export function runBlock(
  zone: Zone,
  leastHeadM: number,
  system: UnitSystem,
  names: PrintedNames,
): Block | null {
  const profile = longestRunProfile(zone);
  if (profile === undefined) return null;
  return plotBlock(
    `plot-run-${zone.id}`,
    plotWords.run(zone.number, names[profile.runId] ?? profile.runId),
    plotWords.runNote,
    38,
    (rect) => runItems(profile, leastHeadM, system, rect),
  );
}

/** The supply curve with the zones' needs as a block, or null where no pressure was measured. */
export function supplyBlock(supply: SupplyDesign, system: UnitSystem): Block | null {
  if (supply.sourceCurve.length < 2) return null;
  return plotBlock('plot-supply', plotWords.supply, plotWords.supplyNote, 42, (rect) =>
    supplyItems(supply, system, rect),
  );
}
