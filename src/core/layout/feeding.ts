import {
  beginClosedPathAt,
  boxesTouch,
  boxOf,
  cosOf,
  distanceM,
  growBox,
  nearestOnPath,
  nearestOnSegment,
  type PlanPoint,
  type Polyline,
  pointAlong,
  pointBetween,
  pointsAlong,
  polylineLengthM,
  SegmentIndex,
} from '../geometry';
import type { Circuit } from './sketch';
import type { BedRing } from './types';

/** The end of a loop is wanted this near to its stub-up. */
const NEAR_M = 0.3;

/** Where a circuit's pipe comes up and where its tubing begins. */
export interface Feed {
  readonly stubUp: PlanPoint;
  readonly begin: PlanPoint;
  /** Distance along the fed run's path where it begins (a loop); null for an open run fed at its end. */
  readonly beginM: number | null;
  readonly isTurned: boolean;
}

/** What a lead may not run across: other tubing, and the bed's own edges where it would leave the bed. */
export interface LeadRoom {
  readonly outer: BedRing;
  readonly edges: SegmentIndex;
  readonly tubing: SegmentIndex;
}

/** Looks for the way in for leads of one bed. */
export function leadRoom(rings: readonly BedRing[], circuits: readonly Circuit[]): LeadRoom {
  return {
    outer: rings[0] ?? { points: [], edges: [] },
    edges: SegmentIndex.ofRings(rings.map((ring) => ring.points)),
    tubing: SegmentIndex.ofPaths(circuits.flatMap((circuit) => circuit.runs.map((run) => run.path))),
  };
}

/**
 * Feeds a circuit from the wished stub-up, or, where that is far from its tubing and the stub-up may be moved, from the
 * place on the bed's edge from which the lead is shortest, as near to the wish as can be. Null where no straight lead
 * reaches its loop without crossing other tubing.
 */
export function feedCircuit(
  circuit: Circuit,
  wish: PlanPoint | null,
  isMovable: boolean,
  room: LeadRoom,
): Feed | null {
  const fed = circuit.runs[0]!;
  if (!fed.closed) return feedOpen(circuit, wish, isMovable, room);
  const path = fed.path;
  if (wish) {
    const near = clearFoot(wish, path, room);
    if (near && (near.distanceM <= NEAR_M || !isMovable)) return loopFeed(wish, near.alongM, path, room);
  }
  const moved = nearestEdgePlace(path, wish, room);
  if (moved) return loopFeed(moved.stubUp, moved.alongM, path, room);
  return null;
}

/** The feed a designer keeps: from where the lead begins to where it meets the tubing. Null where none is kept. */
export function keptFeed({ lead, runs }: Circuit): Feed | null {
  if (!lead) return null;
  const fed = runs[0]!;
  const near = nearestOnPath(lead.to, fed.path);
  return {
    stubUp: lead.from,
    begin: near.at,
    beginM: fed.closed ? near.alongM : null,
    isTurned: !fed.closed && distanceM(lead.to, fed.path.at(-1)!) < distanceM(lead.to, fed.path[0]!),
  };
}

function loopFeed(stubUp: PlanPoint, alongM: number, path: Polyline, room: LeadRoom): Feed {
  const beginM = awayFromBend(path, alongM, (at) => isClear(stubUp, at, room));
  return { stubUp, begin: pointAlong(path, beginM).at, beginM, isTurned: false };
}

/** A tee is pushed onto straight tubing: within a hand's breadth of the nearest point a straight place is taken if the lead reaches one. */
function awayFromBend(path: Polyline, alongM: number, isReached: (at: PlanPoint) => boolean): number {
  const lengthM = polylineLengthM(path);
  const wrap = (value: number): number => ((value % lengthM) + lengthM) % lengthM;
  const isStraight = (atM: number): boolean => {
    const before = pointAlong(path, wrap(atM - 0.06)).headingRad;
    const after = pointAlong(path, wrap(atM + 0.06)).headingRad;
    return cosOf(before - after) > 0.9995;
  };
  for (const shiftM of [0, 0.05, -0.05, 0.1, -0.1, 0.15, -0.15])
    if (
      isStraight(alongM + shiftM) &&
      (shiftM === 0 || isReached(pointAlong(path, wrap(alongM + shiftM)).at))
    )
      return wrap(alongM + shiftM);
  return wrap(alongM);
}

/** The nearest point of a loop that a straight lead reaches without crossing tubing or leaving the bed. */
function clearFoot(
  from: PlanPoint,
  path: Polyline,
  room: LeadRoom,
): { alongM: number; distanceM: number } | null {
  const nearest = nearestOnPath(from, path);
  if (isClear(from, nearest.at, room)) return nearest;
  const lengthM = polylineLengthM(path);
  const count = Math.min(400, Math.max(16, Math.ceil(lengthM / 0.1)));
  const feet = placesAlong(path, lengthM, count)
    .map((foot) => ({ ...foot, distanceM: distanceM(from, foot.at) }))
    .sort((one, other) => one.distanceM - other.distanceM);
  return feet.slice(0, 60).find((foot) => isClear(from, foot.at, room)) ?? null;
}

/** So many places evenly along a path, from its beginning. */
function placesAlong(path: Polyline, lengthM: number, count: number): { alongM: number; at: PlanPoint }[] {
  const alongM = Array.from({ length: count }, (_, k) => (lengthM * k) / count);
  return pointsAlong(path, alongM).map(({ at }, k) => ({ alongM: alongM[k]!, at }));
}

function isClear(from: PlanPoint, to: PlanPoint, room: LeadRoom): boolean {
  const lengthM = distanceM(from, to);
  if (lengthM < 1e-3) return true;
  const a = pointBetween(from, to, Math.min(0.5, 2e-3 / lengthM));
  const b = pointBetween(from, to, Math.max(0.5, 1 - 2e-3 / lengthM));
  return !room.edges.isMet(a, b) && !room.tubing.isMet(a, b);
}

/** The place on the outer edge with the shortest clear lead to a loop, within reach first by nearness to the wish. */
function nearestEdgePlace(
  path: Polyline,
  wish: PlanPoint | null,
  room: LeadRoom,
): { stubUp: PlanPoint; alongM: number } | null {
  const lengthM = polylineLengthM(path);
  const count = Math.min(300, Math.max(24, Math.ceil(lengthM / 0.25)));
  const places = placesAlong(path, lengthM, count)
    .map(({ alongM, at }) => {
      const stubUp = footOnOuter(at, room.outer);
      const leadM = distanceM(at, stubUp);
      const awayM = wish ? distanceM(wish, stubUp) : 0;
      return { stubUp, at, alongM, cost: Math.max(0, leadM - NEAR_M) * 20 + leadM * 0.5 + awayM };
    })
    .sort((one, other) => one.cost - other.cost || one.alongM - other.alongM);
  return places.slice(0, 80).find((place) => isClear(place.stubUp, place.at, room)) ?? null;
}

function footOnOuter(point: PlanPoint, outer: BedRing): PlanPoint {
  let best: { at: PlanPoint; distanceM: number } | null = null;
  outer.points.forEach((a, i) => {
    const near = nearestOnSegment(point, a, outer.points[(i + 1) % outer.points.length]!);
    if (!best || near.distanceM < best.distanceM) best = near;
  });
  return (best as { at: PlanPoint } | null)?.at ?? point;
}

function feedOpen(circuit: Circuit, wish: PlanPoint | null, isMovable: boolean, room: LeadRoom): Feed | null {
  const path = circuit.runs[0]!.path;
  const ends = circuit.canTurn ? [path[0]!, path.at(-1)!] : [path[0]!];
  const options = ends.map((end, index) => {
    const foot = footOnOuter(end, room.outer);
    const canKeep =
      wish !== null && (!isMovable || distanceM(wish, end) <= NEAR_M) && isClear(wish, end, room);
    return {
      end,
      isTurned: index === 1,
      stubUp: canKeep ? wish : foot,
      cost: wish ? distanceM(wish, canKeep ? end : foot) : distanceM(foot, end),
    };
  });
  const best = options.reduce((one, other) => (other.cost < one.cost - 1e-9 ? other : one));
  if (!isClear(best.stubUp, best.end, room)) return null;
  return { stubUp: best.stubUp, begin: best.end, beginM: null, isTurned: best.isTurned };
}

/**
 * Feeds a loop that no lead reaches from the nearest loop already laid, by a plain link within `withinM`: `stubUp` is then
 * the place of its tee on that loop. Null where none is near enough or the way is not clear.
 */
export function feedFromNeighbour(
  circuit: Circuit,
  laid: readonly { readonly id: string; readonly path: Polyline }[],
  withinM: number,
  room: LeadRoom,
): (Feed & { readonly from: string }) | null {
  const fed = circuit.runs[0]!;
  if (!fed.closed) return null;
  const lengthM = polylineLengthM(fed.path);
  const count = Math.min(200, Math.max(16, Math.ceil(lengthM / 0.3)));
  const around = growBox(boxOf(fed.path)!, withinM);
  const beside = laid.filter((run) => boxesTouch(around, boxOf(run.path)!));
  const places = placesAlong(fed.path, lengthM, count);
  const ties = beside.flatMap((run) =>
    places
      .map(({ alongM, at: here }) => {
        const near = nearestOnPath(here, run.path);
        return { from: run.id, alongM, here, at: near.at, distanceM: near.distanceM };
      })
      .filter((tie) => tie.distanceM <= withinM),
  );
  ties.sort((one, other) => one.distanceM - other.distanceM || one.alongM - other.alongM);
  const tie = ties.slice(0, 60).find((each) => isClear(each.at, each.here, room));
  return tie
    ? { stubUp: tie.at, begin: tie.here, beginM: tie.alongM, isTurned: false, from: tie.from }
    : null;
}

/** The fed run's path begun where it is fed: a loop turned to its tee, an open run walked from its fed end. */
export function beginAtFeed(path: Polyline, feed: Feed): Polyline {
  if (feed.beginM !== null) return beginClosedPathAt(path, feed.beginM);
  return feed.isTurned ? [...path].reverse() : path;
}
