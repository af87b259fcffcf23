import { distanceM, headingRad, nearestOnPath, type PlanPoint } from '../geometry';
import type { SketchJoin, SketchRun } from './sketch';

/** An end drawn this near another run is meant to meet it. */
export const MEETS_M = 0.02;
/** Two ends that meet at more than this need an elbow, else a coupling. */
const ELBOW_RAD = Math.PI / 9;

/** An end of an open run that meets nothing. */
export interface LooseEnd {
  readonly run: SketchRun;
  readonly at: PlanPoint;
  readonly isStart: boolean;
}

/** Runs that meet, with the fittings where they do. */
export interface MetRuns {
  readonly runs: readonly SketchRun[];
  readonly joins: readonly SketchJoin[];
  readonly looseEnds: readonly LooseEnd[];
}

/**
 * Sorts drawn runs into groups that meet. Ends within a hair of another run are put on it: two ends make a coupling or an
 * elbow, an end on the middle of a run or more than two ends make a tee.
 */
export function meetingsOf(drawn: readonly SketchRun[]): MetRuns[] {
  const runs = drawn.map((run) => (run.closed ? run : onTheirNeighbours(run, drawn)));
  const places: PlanPoint[] = [];
  const loose: LooseEnd[] = [];
  for (const run of runs) {
    if (run.closed) continue;
    for (const isStart of [true, false]) {
      const at = isStart ? run.path[0]! : run.path.at(-1)!;
      if (!runs.some((other) => other !== run && touches(other, at))) loose.push({ run, at, isStart });
      else if (!places.some((place) => distanceM(place, at) < MEETS_M)) places.push(at);
    }
  }
  const joins = places.map((at) => fittingAt(at, runs));
  const groupOf = new Map<string, number>(runs.map((run, index) => [run.key, index]));
  for (const join of joins) {
    const groups = join.runKeys.map((key) => groupOf.get(key)!);
    const lowest = Math.min(...groups);
    for (const [key, group] of groupOf) if (groups.includes(group)) groupOf.set(key, lowest);
  }
  return [...new Set(groupOf.values())]
    .sort((one, other) => one - other)
    .map((group) => {
      const isIn = (key: string): boolean => groupOf.get(key) === group;
      return {
        runs: runs.filter((run) => isIn(run.key)),
        joins: joins.filter((join) => isIn(join.runKeys[0]!)),
        looseEnds: loose.filter((end) => isIn(end.run.key)),
      };
    });
}

const touches = (run: SketchRun, at: PlanPoint): boolean => nearestOnPath(at, run.path).distanceM < MEETS_M;

function onTheirNeighbours(run: SketchRun, drawn: readonly SketchRun[]): SketchRun {
  const put = (end: PlanPoint): PlanPoint => {
    for (const other of drawn) {
      if (other === run) continue;
      const near = nearestOnPath(end, other.path);
      if (near.distanceM < MEETS_M) return near.at;
    }
    return end;
  };
  return { ...run, path: [put(run.path[0]!), ...run.path.slice(1, -1), put(run.path.at(-1)!)] };
}

function fittingAt(at: PlanPoint, runs: readonly SketchRun[]): SketchJoin {
  const met = runs.filter((run) => touches(run, at));
  const away: number[] = [];
  let legs = 0;
  for (const { path, closed } of met) {
    const [first, last] = [path[0]!, path.at(-1)!];
    const isFirst = !closed && distanceM(first, at) < MEETS_M;
    const isLast = !closed && distanceM(last, at) < MEETS_M;
    if (isFirst) away.push(headingRad(first, path[1]!));
    if (isLast) away.push(headingRad(last, path.at(-2)!));
    legs += isFirst || isLast ? 1 : 2;
  }
  const isTee = legs > 2 || away.length < 2;
  const turnedRad = isTee
    ? 0
    : Math.abs(Math.PI - Math.abs(((away[0]! - away[1]! + 5 * Math.PI) % (2 * Math.PI)) - Math.PI));
  return {
    at,
    runKeys: met.map((run) => run.key),
    fitting: isTee ? 'tee' : turnedRad > ELBOW_RAD ? 'elbow' : 'coupling',
  };
}
