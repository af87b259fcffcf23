import type { DesignedBed } from '../../../core/design';
import { distancesAlongM, type PlanPoint, pointAlong, pointsAlong } from '../../../core/geometry';
import type { Run } from '../../../core/layout';
import type { Zone } from '../../../core/supply';
import { CLASSES, classOf, type PressureRamp } from './pressure';

/** The tubing of one bed, ready to draw in plan metres. */
export interface TubingShape {
  /** One path a pressure class; all in the third where no pressure is known. */
  readonly byClass: readonly Path2D[];
  readonly isSolved: boolean;
  /** Plain pieces without emitters. */
  readonly plain: Path2D;
  /** x, y, and the unit vector to the left bank, four numbers an emitter. */
  readonly ticks: Float32Array;
  readonly emitterSpacingM: number;
}

const UNSOLVED_CLASS = 2;
const shapes = new WeakMap<DesignedBed, { zone: Zone | null; rampKey: string; shape: TubingShape }>();

/** Shape of a bed's tubing, made again only when the bed, its zone or the ramp changed. */
export function tubingShape(bed: DesignedBed, zone: Zone | null, ramp: PressureRamp | null): TubingShape {
  const rampKey = ramp ? ramp.boundsHeadM.join() : '';
  const known = shapes.get(bed);
  if (known && known.zone === zone && known.rampKey === rampKey) return known.shape;
  const shape = makeShape(bed, zone, ramp);
  shapes.set(bed, { zone, rampKey, shape });
  return shape;
}

function makeShape(bed: DesignedBed, zone: Zone | null, ramp: PressureRamp | null): TubingShape {
  const byClass = Array.from({ length: CLASSES }, () => new Path2D());
  const plain = new Path2D();
  const heads = zone && ramp ? headsByRun(zone) : new Map<string, RunHeads>();
  for (const run of bed.layout.runs) {
    if (run.emittersM.length === 0) addPiece(plain, run.path, 0, Number.POSITIVE_INFINITY);
    else addRun(byClass, run, heads.get(run.id), ramp);
  }
  return {
    byClass,
    isSolved: heads.size > 0,
    plain,
    ticks: ticksOf(bed.layout.runs),
    emitterSpacingM: bed.choice.dripline.emitterSpacingM,
  };
}

interface RunHeads {
  readonly distanceM: number[];
  readonly headM: number[];
}

const headMemory = new WeakMap<Zone, Map<string, RunHeads>>();

function headsByRun(zone: Zone): Map<string, RunHeads> {
  const known = headMemory.get(zone);
  if (known) return known;
  const { run, distanceM, headM, runIds } = zone.emitters;
  const all = new Map<string, RunHeads>(runIds.map((id) => [id, { distanceM: [], headM: [] }]));
  for (let index = 0; index < run.length; index++) {
    const heads = all.get(runIds[run[index] ?? 0] ?? '');
    heads?.distanceM.push(distanceM[index] ?? 0);
    heads?.headM.push(headM[index] ?? 0);
  }
  headMemory.set(zone, all);
  return all;
}

/** Cuts a run where its pressure passes from one class to the next, midway between two emitters. */
function addRun(
  byClass: readonly Path2D[],
  run: Run,
  heads: RunHeads | undefined,
  ramp: PressureRamp | null,
): void {
  const first = heads?.headM[0];
  if (!heads || !ramp || first === undefined) {
    const whole = byClass[UNSOLVED_CLASS];
    if (whole) addPiece(whole, run.path, 0, Number.POSITIVE_INFINITY);
    return;
  }
  let [began, current] = [0, classOf(ramp, first)];
  for (let index = 1; index < heads.headM.length; index++) {
    const next = classOf(ramp, heads.headM[index] ?? 0);
    if (next === current) continue;
    const cutM = ((heads.distanceM[index - 1] ?? 0) + (heads.distanceM[index] ?? 0)) / 2;
    const path = byClass[current];
    if (path) addPiece(path, run.path, began, cutM);
    [began, current] = [cutM, next];
  }
  const last = byClass[current];
  if (last) addPiece(last, run.path, began, Number.POSITIVE_INFINITY);
}

const alongMemory = new WeakMap<readonly PlanPoint[], readonly number[]>();

function alongOf(path: readonly PlanPoint[]): readonly number[] {
  const known = alongMemory.get(path);
  if (known) return known;
  const along = distancesAlongM(path);
  alongMemory.set(path, along);
  return along;
}

function addPiece(to: Path2D, path: readonly PlanPoint[], fromM: number, untilM: number): void {
  const along = alongOf(path);
  const start = fromM === 0 ? path[0] : pointAlong(path, fromM).at;
  if (!start) return;
  to.moveTo(start.x, start.y);
  for (let index = 0; index < path.length; index++) {
    const at = along[index] ?? 0;
    const point = path[index];
    if (at <= fromM || !point) continue;
    if (at >= untilM) break;
    to.lineTo(point.x, point.y);
  }
  if (Number.isFinite(untilM)) {
    const end = pointAlong(path, untilM).at;
    to.lineTo(end.x, end.y);
  }
}

/** Ticks stand on the left bank of the flow, so they change side where the two flows meet. */
function ticksOf(runs: readonly Run[]): Float32Array {
  const count = runs.reduce((sum, run) => sum + run.emittersM.length, 0);
  const ticks = new Float32Array(count * 4);
  let at = 0;
  for (const run of runs) {
    const places = pointsAlong(run.path, run.emittersM);
    places.forEach((place, index) => {
      const isPastMeeting = run.closed && run.flushAtM !== null && (run.emittersM[index] ?? 0) > run.flushAtM;
      const side = isPastMeeting ? -1 : 1;
      ticks[at++] = place.at.x;
      ticks[at++] = place.at.y;
      ticks[at++] = -Math.sin(place.headingRad) * side;
      ticks[at++] = Math.cos(place.headingRad) * side;
    });
  }
  return ticks;
}
