import {
  distanceM,
  distancesAlongM,
  nearestOnSegment,
  type PlanPoint,
  pointBetween,
  pointInRing,
  type Region,
  type Ring,
  SegmentIndex,
} from '../../geometry';
import { DRY_RATIO, type DryPatch, inPieces } from './defects';

/** How far from a defect tubing may be moved, in row spacings. Beyond, rows stay as they are. */
const REACH_RATIO = 1.8;
/** Length at each end of a moved stretch over which the movement fades out, in row spacings. */
const FADE_RATIO = 1.2;
/** Nodes of a moved stretch lie this far apart, in row spacings. */
const NODE_RATIO = 0.2;
const ROUNDS = 24;

/** Something to mend: ground to be reached, or runs to be pushed apart. */
export interface Mending {
  readonly dry: readonly DryPatch[];
  readonly close: readonly PlanPoint[];
}

/** What repair works within. */
export interface RepairLimits {
  readonly ground: Region;
  readonly spacingM: number;
  readonly minSeparationM: number;
}

interface Node {
  x: number;
  y: number;
  readonly homeX: number;
  readonly homeY: number;
  /** 1 where it may move freely, falling to 0 at the ends of the stretch. */
  readonly freedom: number;
  readonly isMovable: boolean;
  readonly alongM: number;
}

/**
 * The loop with the stretches near its defects bent towards dry ground and away from runs too near, as a crew would pull
 * a row over by hand. Everything further than about three spacings from a defect keeps its very points.
 */
export function repairLoop(loop: Ring, mending: Mending, limits: RepairLimits): Ring {
  const nodes = nodesOf(loop, mending, limits.spacingM);
  if (!nodes.some((node) => node.isMovable)) return loop;
  const bounds = SegmentIndex.ofRings(limits.ground);
  const samples = drySamples(mending.dry, limits.spacingM);
  for (let round = 0; round < ROUNDS; round++) moveOnce(nodes, samples, limits, bounds);
  return nodes.map(({ x, y }) => ({ x, y }));
}

function nodesOf(loop: Ring, mending: Mending, spacingM: number): Node[] {
  const closed = [...loop, loop[0]!];
  const fine = inPieces(closed, NODE_RATIO * spacingM).slice(0, -1);
  const along = distancesAlongM([...fine, fine[0]!]);
  const totalM = along.at(-1)!;
  const spots = [...mending.dry.flatMap((patch) => [patch.at]), ...mending.close];
  const index = SegmentIndex.ofPaths(spots.map((spot) => [spot, spot]));
  const reachM = REACH_RATIO * spacingM;
  const near = fine.map((point) => index.nearest(point, reachM) !== null);
  const fadeM = FADE_RATIO * spacingM;
  const sinceNear = distanceSince(near, along, totalM, 1);
  const untilNear = distanceSince(near, along, totalM, -1);
  const corners = new Set(loop.map((point) => `${point.x},${point.y}`));
  return fine.flatMap((point, position) => {
    const awayM = Math.min(sinceNear[position]!, untilNear[position]!);
    const freedom = Math.max(0, 1 - awayM / fadeM);
    if (freedom === 0 && !corners.has(`${point.x},${point.y}`)) return [];
    return [
      {
        x: point.x,
        y: point.y,
        homeX: point.x,
        homeY: point.y,
        freedom,
        isMovable: freedom > 0,
        alongM: along[position]!,
      },
    ];
  });
}

/** Distance along the closed loop from the last node near a defect, looking forward (1) or back (-1). */
function distanceSince(
  near: readonly boolean[],
  along: readonly number[],
  totalM: number,
  way: 1 | -1,
): number[] {
  const count = near.length;
  const result = new Array<number>(count).fill(Number.POSITIVE_INFINITY);
  let last: number | null = null;
  for (let step = 0; step < 2 * count; step++) {
    const position = (((way * step) % count) + count) % count;
    if (near[position]) last = position;
    if (last === null) continue;
    const apartM = way === 1 ? along[position]! - along[last]! : along[last]! - along[position]!;
    result[position] = Math.min(result[position]!, ((apartM % totalM) + totalM) % totalM);
  }
  return result;
}

function drySamples(dry: readonly DryPatch[], spacingM: number): PlanPoint[] {
  const stepM = spacingM / 6;
  return dry.flatMap(({ polygon, at }) => {
    const points: PlanPoint[] = [at];
    const xs = polygon.outer.map((point) => point.x);
    const ys = polygon.outer.map((point) => point.y);
    for (let x = Math.min(...xs) + stepM / 2; x < Math.max(...xs); x += stepM)
      for (let y = Math.min(...ys) + stepM / 2; y < Math.max(...ys); y += stepM)
        if (pointInRing({ x, y }, polygon.outer)) points.push({ x, y });
    return points;
  });
}

function moveOnce(
  nodes: Node[],
  samples: readonly PlanPoint[],
  limits: RepairLimits,
  bounds: SegmentIndex,
): void {
  const { spacingM } = limits;
  const count = nodes.length;
  const index = SegmentIndex.ofRings([nodes.map(({ x, y }) => ({ x, y }))]);
  const pull = nodes.map(() => ({ x: 0, y: 0, weight: 0 }));
  for (const sample of samples) pullTowards(sample, nodes, index, pull, spacingM);
  const target = nodes.map((node, position) => {
    if (!node.isMovable) return { x: node.x, y: node.y };
    const force = pull[position]!;
    const weight = Math.max(1, force.weight);
    const push = pushApart(position, nodes, index, limits);
    return { x: node.x + force.x / weight + push.x, y: node.y + force.y / weight + push.y };
  });
  const shift = target.map((point, position) => ({
    x: point.x - nodes[position]!.homeX,
    y: point.y - nodes[position]!.homeY,
  }));
  nodes.forEach((node, position) => {
    if (!node.isMovable) return;
    const before = shift[(position + count - 1) % count]!;
    const after = shift[(position + 1) % count]!;
    const own = shift[position]!;
    const moved = {
      x: node.homeX + node.freedom * (0.5 * own.x + 0.25 * (before.x + after.x)),
      y: node.homeY + node.freedom * (0.5 * own.y + 0.25 * (before.y + after.y)),
    };
    const kept = onGround(moved, limits.ground, bounds);
    node.x = kept.x;
    node.y = kept.y;
  });
}

function pullTowards(
  sample: PlanPoint,
  nodes: readonly Node[],
  index: SegmentIndex,
  pull: { x: number; y: number; weight: number }[],
  spacingM: number,
): void {
  const near = index.nearest(sample);
  if (!near || near.distanceM < 0.94 * DRY_RATIO * spacingM || near.distanceM === 0) return;
  const forceM = Math.min(0.35 * spacingM, near.distanceM - 0.5 * spacingM) * 0.4;
  const count = nodes.length;
  for (let offset = -4; offset <= 5; offset++) {
    const position = (((near.segment.edge + offset) % count) + count) % count;
    const share = Math.exp(-((offset - near.ratio) ** 2) / 6);
    const node = pull[position]!;
    node.x += (forceM * share * (sample.x - near.at.x)) / near.distanceM;
    node.y += (forceM * share * (sample.y - near.at.y)) / near.distanceM;
    node.weight += share;
  }
}

/** Push away from runs that are not neighbours along the tubing and come nearer than the least separation. */
function pushApart(
  position: number,
  nodes: readonly Node[],
  index: SegmentIndex,
  limits: RepairLimits,
): PlanPoint {
  const node = nodes[position]!;
  const count = nodes.length;
  const wantedM = 1.08 * limits.minSeparationM;
  let x = 0;
  let y = 0;
  for (const segment of index.near(node, wantedM)) {
    const apart = Math.abs(segment.edge - position);
    if (
      Math.min(apart, count - apart) * NODE_RATIO < 1.9 &&
      isNeighbour(node, nodes[segment.edge]!, limits.spacingM)
    )
      continue;
    const near = nearestOnSegment(node, segment.a, segment.b);
    if (near.distanceM >= wantedM || near.distanceM < 1e-6) continue;
    const share = (0.3 * (wantedM - near.distanceM)) / near.distanceM;
    x += share * (node.x - near.at.x);
    y += share * (node.y - near.at.y);
  }
  return { x, y };
}

function isNeighbour(one: Node, other: Node, spacingM: number): boolean {
  return Math.abs(one.alongM - other.alongM) < 1.6 * spacingM || distanceM(one, other) < 1e-9;
}

function onGround(point: PlanPoint, ground: Region, bounds: SegmentIndex): PlanPoint {
  let isInside = false;
  for (const ring of ground) if (pointInRing(point, ring)) isInside = !isInside;
  if (isInside) return point;
  const near = bounds.nearest(point);
  return near ? pointBetween(near.at, point, 0) : point;
}
