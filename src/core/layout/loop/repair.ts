import {
  distancesAlongM,
  distanceToSegmentM,
  inPieces,
  nearestOnSegment,
  type PlanPoint,
  pointInRing,
  type Region,
  type Ring,
  SegmentIndex,
  shareOf,
} from '../../geometry';
import { DRY_RATIO, type DryPatch } from './defects';
import { NodeGrid } from './nodeGrid';

/** How far from a defect tubing may be moved, in row spacings. Beyond, rows stay as they are. */
const REACH_RATIO = 1.8;
/** Length at each end of a moved stretch over which the movement fades out, in row spacings. */
const FADE_RATIO = 1.2;
/** Tubing this near to a defect is looked at, moved or not, in row spacings: what is moved, and what it might meet. */
const WINDOW_RATIO = 5;
/** Nodes lie this far apart, in row spacings. */
const NODE_RATIO = 0.2;
/** Parts of a loop nearer along the tubing than this many spacings do not push each other. */
const NEIGHBOUR_RATIO = 1.6;
const ROUNDS = 24;
/** Once nothing moves further than this share of the spacing in a round, the rest would not show. */
const STILL_RATIO = 0.002;

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

/** Points of the loop round its defects, in flat arrays, and the corners elsewhere. */
interface Nodes {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly homeX: Float64Array;
  readonly homeY: Float64Array;
  readonly alongM: Float64Array;
  /** 1 where a node may move freely, falling to 0 at the ends of the stretch. */
  readonly freedom: Float64Array;
  /** The nodes that may move, ascending. */
  readonly movable: readonly number[];
  /** The nodes whose piece of tubing, to the next node, is looked at. */
  readonly watched: readonly number[];
  readonly isKept: readonly boolean[];
  readonly totalM: number;
  /** How far each may still move before it has to be held against the boundary again. */
  readonly safeM: Float64Array;
}

/**
 * The loop with the stretches near its defects bent towards dry ground and away from runs too near, as a crew would pull
 * a row over by hand. Everything further than about three spacings from a defect keeps its very points, and costs no time.
 */
export function repairLoop(loop: Ring, mending: Mending, limits: RepairLimits): Ring {
  const nodes = nodesOf(loop, mending, limits.spacingM);
  if (nodes.movable.length === 0) return loop;
  const bounds = SegmentIndex.ofRings(limits.ground);
  const dry = mending.dry.flatMap((patch) => everyOther(patch));
  let about = aboutNodes(nodes, limits);
  let movedM = 0;
  for (let round = 0; round < ROUNDS; round++) {
    if (movedM > SLACK_RATIO * limits.spacingM) {
      about = aboutNodes(nodes, limits);
      movedM = 0;
    }
    const furthestM = moveOnce(nodes, dry, limits, bounds, about, movedM);
    if (furthestM < STILL_RATIO * limits.spacingM) break;
    movedM += furthestM;
  }
  return nodes.isKept.flatMap((isKept, index) =>
    isKept ? [{ x: nodes.x[index]!, y: nodes.y[index]! }] : [],
  );
}

/** The furthest point of a patch and every other one: enough to show where it lies. */
const everyOther = ({ at, points }: DryPatch): PlanPoint[] => [
  at,
  ...points.filter((_, index) => index % 2 === 0),
];

function nodesOf(loop: Ring, mending: Mending, spacingM: number): Nodes {
  const { fine, isCorner } = finePoints(loop, NODE_RATIO * spacingM);
  const along = distancesAlongM([...fine, fine[0]!]);
  const totalM = along.at(-1)!;
  const spotM = distancesToSpots(fine, mending, spacingM);
  const isNear = Array.from(spotM, (distanceM) => distanceM <= REACH_RATIO * spacingM);
  const sinceNear = distanceSince(isNear, along, totalM, 1);
  const untilNear = distanceSince(isNear, along, totalM, -1);
  const freedomAt = (position: number): number =>
    Math.max(0, 1 - Math.min(sinceNear[position]!, untilNear[position]!) / (FADE_RATIO * spacingM));
  const kept = fine.flatMap((point, position) => {
    const freedom = freedomAt(position);
    const isSeen = freedom > 0 || spotM[position]! < Number.POSITIVE_INFINITY;
    return isCorner[position]! || isSeen
      ? [{ ...point, alongM: along[position]!, freedom, isSeen, isKept: isCorner[position]! || freedom > 0 }]
      : [];
  });
  const column = (of: (node: (typeof kept)[number]) => number): Float64Array => Float64Array.from(kept, of);
  return {
    x: column((node) => node.x),
    y: column((node) => node.y),
    homeX: column((node) => node.x),
    homeY: column((node) => node.y),
    alongM: column((node) => node.alongM),
    freedom: column((node) => node.freedom),
    movable: kept.flatMap((node, position) => (node.freedom > 0 ? [position] : [])),
    watched: kept.flatMap((node, position) =>
      node.isSeen && (kept[position + 1] ?? kept[0]!).isSeen ? [position] : [],
    ),
    isKept: kept.map((node) => node.isKept),
    totalM,
    safeM: new Float64Array(kept.length),
  };
}

/** The loop's points with more between them, so that none lie further apart than `stepM`. */
function finePoints(loop: Ring, stepM: number): { fine: PlanPoint[]; isCorner: boolean[] } {
  const fine: PlanPoint[] = [];
  const isCorner: boolean[] = [];
  loop.forEach((a, index) => {
    inPieces([a, loop[(index + 1) % loop.length]!], stepM)
      .slice(0, -1)
      .forEach((point, order) => {
        fine.push(point);
        isCorner.push(order === 0);
      });
  });
  return { fine, isCorner };
}

/** How far each point is from the nearest defect; infinite beyond the window. */
function distancesToSpots(points: readonly PlanPoint[], mending: Mending, spacingM: number): Float64Array {
  const spots = [...mending.dry.map((patch) => patch.at), ...mending.close];
  const windowM = WINDOW_RATIO * spacingM;
  const x = Float64Array.from(spots, (spot) => spot.x);
  const y = Float64Array.from(spots, (spot) => spot.y);
  const grid = new NodeGrid(x, y, [...spots.keys()], windowM);
  return Float64Array.from(points, (point) => {
    let nearestM = Number.POSITIVE_INFINITY;
    grid.visit(point.x, point.y, windowM, (spot) => {
      const distanceM = Math.hypot(x[spot]! - point.x, y[spot]! - point.y);
      if (distanceM <= windowM && distanceM < nearestM) nearestM = distanceM;
    });
    return nearestM;
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

/** One round of pulls and pushes; answers how far the node that moved most has moved, metres. */
function moveOnce(
  nodes: Nodes,
  dry: readonly PlanPoint[],
  limits: RepairLimits,
  bounds: SegmentIndex,
  about: About,
  movedM: number,
): number {
  const { x, y, homeX, homeY, freedom, movable } = nodes;
  const count = x.length;
  const pull = pullsOf(nodes, dry, about.grid, movedM, limits.spacingM);
  const shiftX = new Float64Array(count);
  const shiftY = new Float64Array(count);
  for (const [order, node] of movable.entries()) {
    const weight = Math.max(1, pull.weight[node]!);
    const push = pushApart(node, about.facing[order]!, nodes, limits);
    shiftX[node] = x[node]! + pull.x[node]! / weight + push.x - homeX[node]!;
    shiftY[node] = y[node]! + pull.y[node]! / weight + push.y - homeY[node]!;
  }
  let furthestM = 0;
  for (const node of movable) {
    const before = (node + count - 1) % count;
    const after = (node + 1) % count;
    const smoothX = 0.5 * shiftX[node]! + 0.25 * (shiftX[before]! + shiftX[after]!);
    const smoothY = 0.5 * shiftY[node]! + 0.25 * (shiftY[before]! + shiftY[after]!);
    const wanted = {
      x: homeX[node]! + freedom[node]! * smoothX,
      y: homeY[node]! + freedom[node]! * smoothY,
    };
    furthestM = Math.max(furthestM, moveTo(node, wanted, nodes, limits.ground, bounds));
  }
  return furthestM;
}

/** Moves a node, held to the ground; answers how far. */
function moveTo(node: number, wanted: PlanPoint, nodes: Nodes, ground: Region, bounds: SegmentIndex): number {
  const { x, y, safeM } = nodes;
  const movedM = Math.hypot(wanted.x - x[node]!, wanted.y - y[node]!);
  safeM[node] = safeM[node]! - movedM;
  let at = wanted;
  if (safeM[node]! <= 0) {
    const near = bounds.nearest(wanted);
    let isInside = false;
    for (const ring of ground) if (pointInRing(wanted, ring)) isInside = !isInside;
    if (near && !isInside) at = near.at;
    safeM[node] = near && isInside ? near.distanceM : 0;
  }
  const furtherM = Math.hypot(at.x - x[node]!, at.y - y[node]!);
  x[node] = at.x;
  y[node] = at.y;
  return furtherM;
}

interface Pulls {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly weight: Float64Array;
}

/** Dry points pull the nearest tubing, and a little of what lies before and after it. */
function pullsOf(
  nodes: Nodes,
  dry: readonly PlanPoint[],
  grid: NodeGrid,
  movedM: number,
  spacingM: number,
): Pulls {
  const count = nodes.x.length;
  const pull = { x: new Float64Array(count), y: new Float64Array(count), weight: new Float64Array(count) };
  for (const point of dry) {
    const segment = nearestSegment(point, nodes, grid, movedM, spacingM);
    if (segment < 0) continue;
    const near = nearestOnSegment(point, nodeAt(nodes, segment), nodeAt(nodes, (segment + 1) % count));
    if (near.distanceM < 0.94 * DRY_RATIO * spacingM) continue;
    const forceM = Math.min(0.35 * spacingM, near.distanceM - 0.5 * spacingM) * 0.4;
    for (let offset = -4; offset <= 5; offset++) {
      const node = (((segment + offset) % count) + count) % count;
      const share = shareOf(-((offset - near.ratio) ** 2) / 6);
      pull.x[node] = pull.x[node]! + (forceM * share * (point.x - near.at.x)) / near.distanceM;
      pull.y[node] = pull.y[node]! + (forceM * share * (point.y - near.at.y)) / near.distanceM;
      pull.weight[node] = pull.weight[node]! + share;
    }
  }
  return pull;
}

const nodeAt = (nodes: Nodes, node: number): PlanPoint => ({ x: nodes.x[node]!, y: nodes.y[node]! });

/** The watched piece of tubing nearest to a point, by its first node; -1 where none is within three spacings. */
function nearestSegment(
  point: PlanPoint,
  nodes: Nodes,
  grid: NodeGrid,
  movedM: number,
  spacingM: number,
): number {
  const count = nodes.x.length;
  let best = -1;
  let bestM = Number.POSITIVE_INFINITY;
  for (const reachRatio of [0.8, 1.6, 3.2]) {
    const look = (node: number): void => {
      const distanceM = distanceToSegmentM(point, nodeAt(nodes, node), nodeAt(nodes, (node + 1) % count));
      if (distanceM > bestM || (distanceM === bestM && node > best)) return;
      best = node;
      bestM = distanceM;
    };
    grid.visit(point.x, point.y, (reachRatio + NODE_RATIO) * spacingM, look, movedM);
    if (bestM <= reachRatio * spacingM) break;
  }
  return best;
}

/** Runs nearer than this push each other, in least separations. */
const PUSHED_RATIO = 1.08;

/** Push away from the runs facing a node that come nearer than the least separation. */
function pushApart(node: number, facing: readonly number[], nodes: Nodes, limits: RepairLimits): PlanPoint {
  const count = nodes.x.length;
  const at = nodeAt(nodes, node);
  const wantedM = PUSHED_RATIO * limits.minSeparationM;
  let x = 0;
  let y = 0;
  for (const segment of facing) {
    const near = nearestOnSegment(at, nodeAt(nodes, segment), nodeAt(nodes, (segment + 1) % count));
    if (near.distanceM >= wantedM || near.distanceM < 1e-6) continue;
    const share = (0.3 * (wantedM - near.distanceM)) / near.distanceM;
    x += share * (at.x - near.at.x);
    y += share * (at.y - near.at.y);
  }
  return { x, y };
}

/** Nodes by place as they lay a few rounds ago, and for each that may move the pieces of tubing it may have come near to since. */
interface About {
  readonly grid: NodeGrid;
  /** By the order of the movable nodes: first nodes of pieces that are no neighbours of it along the tubing. */
  readonly facing: readonly (readonly number[])[];
}

/** What lies about is looked up anew once a node may have moved this far, in row spacings. */
const SLACK_RATIO = 0.15;

function aboutNodes(nodes: Nodes, limits: RepairLimits): About {
  const { x, y, alongM, totalM } = nodes;
  const grid = new NodeGrid(x, y, nodes.watched, limits.spacingM);
  const neighbourM = NEIGHBOUR_RATIO * limits.spacingM;
  // A node and a piece may each have moved as far as the slack.
  const reachM = PUSHED_RATIO * limits.minSeparationM + (NODE_RATIO + 2 * SLACK_RATIO) * limits.spacingM;
  const facing = nodes.movable.map((node) => {
    const found: number[] = [];
    grid.visit(x[node]!, y[node]!, reachM, (segment) => {
      const apartM = Math.abs(alongM[segment]! - alongM[node]!);
      if (Math.min(apartM, totalM - apartM) >= neighbourM) found.push(segment);
    });
    return found.sort((one, other) => one - other);
  });
  return { grid, facing };
}
