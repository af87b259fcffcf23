import {
  distanceM,
  distanceToSegmentM,
  nearestOnPath,
  type PlanPoint,
  polylineLengthM,
  quantisePoint,
} from '../geometry';
import { beginAtFeed, type Feed, feedCircuit, feedFromNeighbour, keptFeed, leadRoom } from './feeding';
import { flushPointM, makeRun } from './runs';
import type { Circuit, Sketch, SketchRun } from './sketch';
import type { BedRing, Join, LayoutInput, Run } from './types';

/** The flush box must be reached from a walk or a lawn: 3 ft in from an edge (ours, stated). */
const FLUSH_REACH_M = 0.9144;

/** A pocket is linked to a loop at most this many row spacings away. */
const LINK_REACH_ROWS = 2.5;

/** A layout as it is laid: every piece with its emitters, every fitting, the place the water comes up. */
export interface Assembled {
  readonly runs: readonly Run[];
  readonly joins: readonly Join[];
  readonly stubUp: PlanPoint;
}

/**
 * Lays sketches: each circuit is fed from the bed's edge by a plain lead, the first from the wished stub-up, the others
 * from wherever their lead is shortest; loops begin at their tee and are flushed where the two flows meet. A circuit
 * that no lead can reach is fed by a plain link from the loop beside it, or left out where none is near.
 *
 * @param idPrefix  ids of runs begin with it
 */
export function assemble(sketches: readonly Sketch[], input: LayoutInput, idPrefix: string): Assembled {
  const circuits = sketches.flatMap((sketch) => sketch.circuits.map((circuit) => ({ circuit, sketch })));
  const room = leadRoom(
    input.rings,
    circuits.map(({ circuit }) => circuit),
  );
  const runs: Run[] = [];
  const joins: Join[] = [];
  const counts = new Map<string, number>();
  const nextId = (role: string): string => {
    const count = (counts.get(role) ?? 0) + 1;
    counts.set(role, count);
    return `${idPrefix}:${role}-${count}`;
  };
  let stubUp: PlanPoint | null = null;
  const waiting: Placed[] = [];
  const order = byNearness(circuits, input.stubUp);
  for (const { circuit, sketch } of order) {
    const isMain = stubUp === null;
    const feed =
      keptFeed(circuit) ?? feedCircuit(circuit, input.stubUp, isMain ? input.stubUpMovable : true, room);
    if (!feed) {
      waiting.push({ circuit, sketch });
      continue;
    }
    if (isMain) stubUp = quantisePoint(feed.stubUp);
    const laid = layCircuit(circuit, feed, input, sketch.rowSpacingM, nextId);
    runs.push(...laid.runs);
    joins.push(...laid.joins);
  }
  for (const { circuit, sketch } of waiting) {
    const loops = runs.filter((run) => run.role === 'loop');
    const feed = feedFromNeighbour(circuit, loops, LINK_REACH_ROWS * sketch.rowSpacingM, room);
    if (!feed) continue;
    const laid = layCircuit(circuit, feed, input, sketch.rowSpacingM, nextId, feed.from);
    runs.push(...laid.runs);
    joins.push(...laid.joins);
  }
  return { runs, joins, stubUp: stubUp ?? input.stubUp ?? input.rings[0]?.points[0] ?? { x: 0, y: 0 } };
}

type Placed = { readonly circuit: Circuit; readonly sketch: Sketch };

function byNearness(circuits: readonly Placed[], wish: PlanPoint | null): Placed[] {
  if (!wish || circuits.length < 2) return [...circuits];
  const away = circuits.map(({ circuit }) => nearestOnPath(wish, circuit.runs[0]!.path).distanceM);
  return circuits
    .map((placed, index) => ({ placed, awayM: away[index]!, index }))
    .sort((one, other) => one.awayM - other.awayM || one.index - other.index)
    .map(({ placed }) => placed);
}

function layCircuit(
  circuit: Circuit,
  feed: Feed,
  input: LayoutInput,
  rowSpacingM: number,
  nextId: (role: string) => string,
  neighbourId: string | null = null,
): { runs: Run[]; joins: Join[] } {
  const idOf = new Map<string, string>();
  const toEdge = (point: PlanPoint): number => edgeDistanceM(point, input.rings);
  const making = { rowSpacingM, bendRadiusM: input.bendRadiusM, emitterSpacingM: input.emitterSpacingM };
  const joins: Join[] = [];
  const runs = circuit.runs.map((sketchRun, index) => {
    const id = nextId(sketchRun.role);
    idOf.set(sketchRun.key, id);
    const placed: SketchRun =
      index === 0 ? { ...sketchRun, path: beginAtFeed(sketchRun.path, feed) } : sketchRun;
    return makeRun(placed, { ...making, id, flushAtM: flushOf(placed, circuit, toEdge) });
  });
  const fed = runs[0]!;
  const lead = layLead(feed.stubUp, fed.startsAt, nextId, making, neighbourId !== null);
  if (lead) runs.push(lead);
  joins.push({
    ...quantisePoint(fed.startsAt),
    runIds: lead ? [lead.id, fed.id] : [fed.id],
    fitting: neighbourId !== null ? 'tee' : fed.closed ? 'stub-up-tee' : 'coupling',
  });
  if (lead && neighbourId !== null)
    joins.push({ ...quantisePoint(feed.stubUp), runIds: [neighbourId, lead.id], fitting: 'tee' });
  for (const join of circuit.joins) {
    // A fed row that was turned round to begin at its lead is flushed at what was drawn as its start.
    const isEndOfFed =
      join.fitting === 'flush-valve' && join.runKeys[0] === circuit.runs[0]!.key && !fed.closed;
    joins.push({
      ...quantisePoint(isEndOfFed ? fed.path.at(-1)! : join.at),
      runIds: join.runKeys.map((key) => idOf.get(key)!),
      fitting: join.fitting,
    });
  }
  for (const run of runs) if (run.closed && run.flushAtM !== null) joins.push(flushJoin(run));
  return { runs, joins };
}

function flushOf(run: SketchRun, circuit: Circuit, toEdge: (point: PlanPoint) => number): number | null {
  if (run.key !== circuit.flushKey || run.role === 'connector') return null;
  return run.closed ? flushPointM(run.path, toEdge, FLUSH_REACH_M) : polylineLengthM(run.path);
}

function flushJoin(run: Run): Join {
  let leftM = run.flushAtM ?? 0;
  for (let i = 1; i < run.path.length; i += 1) {
    const a = run.path[i - 1]!;
    const b = run.path[i]!;
    const lengthM = distanceM(a, b);
    if (leftM <= lengthM && lengthM > 0) {
      const ratio = leftM / lengthM;
      const at = quantisePoint({ x: a.x + (b.x - a.x) * ratio, y: a.y + (b.y - a.y) * ratio });
      return { x: at.x, y: at.y, runIds: [run.id], fitting: 'flush-valve' };
    }
    leftM -= lengthM;
  }
  return { ...run.startsAt, runIds: [run.id], fitting: 'flush-valve' };
}

function layLead(
  from: PlanPoint,
  to: PlanPoint,
  nextId: (role: string) => string,
  making: { rowSpacingM: number; bendRadiusM: number; emitterSpacingM: number },
  isLink: boolean,
): Run | null {
  if (distanceM(quantisePoint(from), quantisePoint(to)) < 1e-3) return null;
  const role = isLink ? 'connector' : 'lead';
  const sketch: SketchRun = {
    key: role,
    role,
    ...(isLink ? { use: 'link' as const } : {}),
    closed: false,
    path: [from, to],
  };
  return makeRun(sketch, { ...making, id: nextId(role), flushAtM: null });
}

function edgeDistanceM(point: PlanPoint, rings: readonly BedRing[]): number {
  const outer = rings[0]?.points ?? [];
  let nearest = Number.POSITIVE_INFINITY;
  outer.forEach((a, i) => {
    nearest = Math.min(nearest, distanceToSegmentM(point, a, outer[(i + 1) % outer.length]!));
  });
  return nearest;
}
