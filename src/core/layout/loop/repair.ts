import {
  distanceM,
  distancesAlongM,
  type PlanPoint,
  pointBetween,
  pointInRing,
  type Region,
  type Ring,
  SegmentIndex,
} from '../../geometry';
import { inPieces } from './defects';
import { DRY_RATIO, type DryPatch } from './dry';

/** How far from a defect tubing may be moved, in row spacings. Beyond, rows stay as they are. */
const REACH_RATIO = 1.8;
/** Length at each end of a moved stretch over which the movement fades out, in row spacings. */
const FADE_RATIO = 1.2;
/** Nodes of a moved stretch lie this far apart, in row spacings. */
const NODE_RATIO = 0.2;
const ROUNDS = 24;
/** Which runs lie near which is looked up anew after so many rounds. */
const ROUNDS_A_LOOK = 8;
/** Between two looks nothing moves further than this, in row spacings. */
const MOVED_RATIO = 0.6;
/** Points of a patch that pull: about so many. */
const MOST_PULLS = 40;

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
  const samples = mending.dry.flatMap(({ at, points }) => {
    const every = Math.max(1, Math.floor(points.length / MOST_PULLS));
    return [at, ...points.filter((_, index) => index % every === 0)];
  });
  let near = lookAround(nodes, samples, limits);
  for (let round = 0; round < ROUNDS; round++) {
    if (round > 0 && round % ROUNDS_A_LOOK === 0) near = lookAround(nodes, samples, limits);
    moveOnce(nodes, samples, limits, bounds, near);
  }
  return nodes.map(({ x, y }) => ({ x, y }));
}

/** Pieces of the loop, by their first node, that a sample or a node may feel until the next look. */
interface Near {
  readonly ofSample: readonly Int32Array[];
  readonly ofNode: readonly Int32Array[];
}

const NOTHING = new Int32Array(0);

function lookAround(nodes: readonly Node[], samples: readonly PlanPoint[], limits: RepairLimits): Near {
  const { spacingM, minSeparationM } = limits;
  const index = SegmentIndex.ofRings([nodes.map(({ x, y }) => ({ x, y }))]);
  const movedM = MOVED_RATIO * spacingM;
  const count = nodes.length;
  const edges = (at: PlanPoint, radiusM: number): number[] => index.near(at, radiusM).map(({ edge }) => edge);
  return {
    ofSample: samples.map((sample) =>
      Int32Array.from(edges(sample, (index.nearest(sample)?.distanceM ?? 0) + movedM)),
    ),
    ofNode: nodes.map((node, position) =>
      node.isMovable
        ? Int32Array.from(
            edges(node, 1.08 * minSeparationM + movedM).filter((edge) => {
              const apart = Math.abs(edge - position);
              return !(
                Math.min(apart, count - apart) * NODE_RATIO < 1.9 && isNeighbour(node, nodes[edge]!, spacingM)
              );
            }),
          )
        : NOTHING,
    ),
  };
}

/** The nearest place of a piece to a point. One object, filled again and again: this is the innermost loop of all routing. */
const found = { x: 0, y: 0, ratio: 0, square: 0 };

function measureToPiece(nodes: readonly Node[], edge: number, x: number, y: number): void {
  const a = nodes[edge]!;
  const b = nodes[edge + 1 === nodes.length ? 0 : edge + 1]!;
  const vx = b.x - a.x;
  const vy = b.y - a.y;
  const length2 = vx * vx + vy * vy;
  let ratio = length2 > 0 ? ((x - a.x) * vx + (y - a.y) * vy) / length2 : 0;
  ratio = ratio < 0 ? 0 : ratio > 1 ? 1 : ratio;
  found.ratio = ratio;
  found.x = a.x + ratio * vx;
  found.y = a.y + ratio * vy;
  found.square = (x - found.x) * (x - found.x) + (y - found.y) * (y - found.y);
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

function moveOnce(
  nodes: Node[],
  samples: readonly PlanPoint[],
  limits: RepairLimits,
  bounds: SegmentIndex,
  near: Near,
): void {
  const { spacingM } = limits;
  const count = nodes.length;
  const pull = nodes.map(() => ({ x: 0, y: 0, weight: 0 }));
  samples.forEach((sample, order) => {
    pullTowards(sample, nodes, near.ofSample[order]!, pull, spacingM);
  });
  const target = nodes.map((node, position) => {
    if (!node.isMovable) return { x: node.x, y: node.y };
    const force = pull[position]!;
    const weight = Math.max(1, force.weight);
    const push = pushApart(position, nodes, near.ofNode[position]!, limits);
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
  edges: Int32Array,
  pull: { x: number; y: number; weight: number }[],
  spacingM: number,
): void {
  let nearestEdge = -1;
  let square = Number.POSITIVE_INFINITY;
  const reached = (0.94 * DRY_RATIO * spacingM) ** 2;
  for (let k = 0; k < edges.length; k++) {
    measureToPiece(nodes, edges[k]!, sample.x, sample.y);
    if (found.square >= square) continue;
    if (found.square < reached) return;
    square = found.square;
    nearestEdge = edges[k]!;
  }
  if (nearestEdge < 0) return;
  measureToPiece(nodes, nearestEdge, sample.x, sample.y);
  const distanceM = Math.sqrt(square);
  const forceM = Math.min(0.35 * spacingM, distanceM - 0.5 * spacingM) * 0.4;
  const [ux, uy] = [(sample.x - found.x) / distanceM, (sample.y - found.y) / distanceM];
  const count = nodes.length;
  for (let offset = -4; offset <= 5; offset++) {
    const position = (((nearestEdge + offset) % count) + count) % count;
    const share = Math.exp(-((offset - found.ratio) ** 2) / 6);
    const node = pull[position]!;
    node.x += forceM * share * ux;
    node.y += forceM * share * uy;
    node.weight += share;
  }
}

/** Push away from runs that are not neighbours along the tubing and come nearer than the least separation. */
function pushApart(
  position: number,
  nodes: readonly Node[],
  edges: Int32Array,
  limits: RepairLimits,
): PlanPoint {
  const node = nodes[position]!;
  const wantedM = 1.08 * limits.minSeparationM;
  let x = 0;
  let y = 0;
  for (let k = 0; k < edges.length; k++) {
    measureToPiece(nodes, edges[k]!, node.x, node.y);
    if (found.square >= wantedM * wantedM || found.square < 1e-12) continue;
    const apartM = Math.sqrt(found.square);
    const share = (0.3 * (wantedM - apartM)) / apartM;
    x += share * (node.x - found.x);
    y += share * (node.y - found.y);
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
