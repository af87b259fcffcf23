import { type Dripline, typicalCatalog } from '../../../src/core/catalog';
import { type PlanPoint, polylineLengthM } from '../../../src/core/geometry';
import type { BedLayout, Run } from '../../../src/core/layout';
import { emptyPlan, type Plan, plainBed, type WaterSource } from '../../../src/core/plan';
import { groundOf, type ServedBed } from '../../../src/core/supply';

/** Metres in a foot, by definition. */
export const FOOT = 0.3048;
/** Cubic metres a second in a US gallon a minute: 231 in3 over 60 s. */
export const GPM = (231 * 0.0254 ** 3) / 60;
/** Metres of water in a psi: 0.45359237 x 9.80665 / 0.0254^2 Pa over 9806.65 Pa/m. */
export const PSI = 0.45359237 / 0.0254 ** 2 / 1000;

export const loamDripline: Dripline = typicalCatalog.driplines.find(
  ({ id }) => id === 'dripline-pc-0.4gph-12in',
)!;

interface Rectangle {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  readonly widthM: number;
  readonly heightM: number;
}

/** One comb-shaped closed loop, drawn by hand: an even number of rows, all but the first begin a row in from the return. */
export function loopPath(at: Rectangle, insetM = 0.0762, wantedSpacingM = 0.4572): PlanPoint[] {
  const left = at.x + insetM;
  const right = at.x + at.widthM - insetM;
  const bottom = at.y + insetM;
  const top = at.y + at.heightM - insetM;
  const gaps = Math.max(1, Math.ceil((top - bottom) / wantedSpacingM));
  const rows = gaps % 2 === 0 ? gaps + 2 : gaps + 1;
  const step = (top - bottom) / (rows - 1);
  const points: PlanPoint[] = [];
  for (let row = 0; row < rows; row++) {
    const y = bottom + row * step;
    const start = row === 0 || row === rows - 1 ? left : left + step;
    points.push(
      ...(row % 2 === 0
        ? [
            { x: start, y },
            { x: right, y },
          ]
        : [
            { x: right, y },
            { x: start, y },
          ]),
    );
  }
  return [...points, points[0]!];
}

/** A laid-out rectangular bed with one loop, its stub-up at the lower left corner of the loop. */
export function loopLayout(at: Rectangle, dripline: Dripline = loamDripline): BedLayout {
  const path = loopPath(at);
  const lengthM = polylineLengthM(path);
  const count = Math.floor((lengthM - 0.1) / dripline.emitterSpacingM);
  const run: Run = {
    id: `${at.id}/loop`,
    role: 'loop',
    closed: true,
    path,
    lengthM,
    emittersM: Array.from({ length: count }, (_, index) => 0.1 + index * dripline.emitterSpacingM),
    startsAt: path[0]!,
    flushAtM: lengthM / 2,
    minBendRadiusM: 0.127,
    straightFraction: 0.9,
    turns: 2,
  };
  const outer = [
    { x: at.x, y: at.y },
    { x: at.x + at.widthM, y: at.y },
    { x: at.x + at.widthM, y: at.y + at.heightM },
    { x: at.x, y: at.y + at.heightM },
  ];
  const ground = [{ outer, holes: [] }];
  const areaM2 = at.widthM * at.heightM;
  return {
    bedId: at.id,
    status: 'routed',
    areaM2,
    usable: ground,
    usableAreaM2: areaM2,
    outline: ground,
    layout: 'loop',
    nominalRowSpacingM: 0.4572,
    rowSpacingM: 0.4572,
    directionRad: 0,
    stubUp: path[0]!,
    runs: [run],
    joins: [{ x: path[0]!.x, y: path[0]!.y, runIds: [run.id], fitting: 'stub-up-tee' }],
    coverage: { coveredRatio: 1, maxGapM: 0.25, gaps: [], worstPhaseOverlapRatio: 1 },
    chosen: 'a',
    alternatives: [],
    ruleOfThumbLengthM: areaM2 / 0.4572,
    memory: null,
    problems: [],
    verified: {
      passed: true,
      crossings: 0,
      worstClearanceM: 0,
      separationM: 0.4,
      minBendRadiusM: 0.127,
      closed: true,
      failures: [],
    },
  };
}

/** Puts a bed into a plan. */
export function withBed(plan: Plan, at: Rectangle, changes: Partial<Plan['beds'][string]> = {}): Plan {
  const points = [
    { x: at.x, y: at.y },
    { x: at.x + at.widthM, y: at.y },
    { x: at.x + at.widthM, y: at.y + at.heightM },
    { x: at.x, y: at.y + at.heightM },
  ];
  const edges = points.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
  const bed = { ...plainBed(at.id, [{ points, edges }], at.id), ...changes };
  return { ...plan, beds: { ...plan.beds, [at.id]: bed } };
}

/** The bed as the supply stage receives it. */
export function servedBed(plan: Plan, at: Rectangle, changes: Partial<ServedBed> = {}): ServedBed {
  const ground = groundOf(plan);
  const layout = loopLayout(at, changes.dripline);
  return {
    bedId: at.id,
    name: at.id,
    plants: 'moderate',
    sun: 'full-sun',
    soil: 'loam',
    slopeRatio: 0,
    elevationM: ground.inBed(at.id)(layout.stubUp),
    zoneKey: null,
    dripline: loamDripline,
    layout,
    elevationAt: ground.inBed(at.id),
    ...changes,
  };
}

/** A town-water source with 65 psi at rest and 55 psi while 10 gpm run. */
export function townSource(at: PlanPoint, changes: Partial<WaterSource> = {}): WaterSource {
  return {
    id: 'source',
    name: '',
    at,
    elevationM: null,
    water: 'potable',
    staticHeadM: 65 * PSI,
    lowestStaticHeadM: 65 * PSI,
    highestStaticHeadM: 70 * PSI,
    flowTestM3s: 10 * GPM,
    flowTestHeadM: 55 * PSI,
    measuredOn: '2026-03-01',
    measuredBy: 'field',
    meterSizeM: 0.75 * 0.0254,
    serviceDiameterM: null,
    serviceLengthM: null,
    backflowId: 'backflow-pvb-1',
    pumpCurve: null,
    pumpCutInHeadM: null,
    ...changes,
  };
}

/** An empty plan with that source. */
export function planWithSource(at: PlanPoint, changes: Partial<WaterSource> = {}): Plan {
  const source = townSource(at, changes);
  return { ...emptyPlan('plan'), sources: { [source.id]: source } };
}

/** 10 x 15 ft, as in the trade's own example. */
export const smallBed = { id: 'bed-a', x: 0, y: 0, widthM: 15 * FOOT, heightM: 10 * FOOT };
