import { cosOf, GRID_STEPS_PER_M, type MultiPolygon, type PlanPoint, type Ring, sinOf } from '../geometry';
import type { Problem } from '../units';
import { halfTurn } from './loop/directions';
import {
  headingIntoFrame,
  headingOutOfFrame,
  intoFrame,
  isMirrored,
  type Mark,
  type OwnFrame,
  outOfFrame,
  ownFrame,
  ringInOrder,
} from './ownFrame';
import type { Alternative, BedLayout, Coverage, Join, LayoutInput, Run } from './types';

const HALF_TURN_RAD = Math.PI;
/** A row direction nearer than this to the one asked for is that one. */
const SAME_DIRECTION_RAD = 1e-9;

/** The frame of a bed and of all that has a say in how it is laid; null where its outline has no extent. */
export function frameOfBed(input: LayoutInput): OwnFrame | null {
  const outer = input.rings[0]?.points ?? [];
  return outer.length < 3 ? null : ownFrame(outer, marksOf(input));
}

function marksOf({
  rings,
  obstacles,
  trees,
  spurPlants,
  stubUp,
  slope,
  rowDirectionRad,
}: LayoutInput): Mark[] {
  const outer = rings[0]!.points;
  const middle = {
    x: outer.reduce((sum, { x }) => sum + x, 0) / outer.length,
    y: outer.reduce((sum, { y }) => sum + y, 0) / outer.length,
  };
  const towards = (headingRad: number, kind: number): Mark => ({
    at: { x: middle.x + cosOf(headingRad), y: middle.y + sinOf(headingRad) },
    kind,
  });
  const steps = (lengthM: number): number => Math.round(lengthM * GRID_STEPS_PER_M);
  return [
    ...rings.flatMap(({ points, edges }) =>
      points.flatMap((from, index): Mark[] => {
        const kind = 10 + steps(edges[index]?.offsetM ?? 0);
        return [
          { at: from, kind },
          { at: points[(index + 1) % points.length]!, kind },
        ];
      }),
    ),
    ...obstacles.flatMap(({ outline, clearanceM }) =>
      outline.map((at) => ({ at, kind: 10 + steps(clearanceM) })),
    ),
    ...[...trees, ...spurPlants].map(({ at }) => ({ at, kind: 1 })),
    ...(stubUp ? [{ at: stubUp, kind: 2 }] : []),
    ...(slope ? [towards(compassOf(slope.towardRad), 3)] : []),
    ...(rowDirectionRad === null
      ? []
      : [towards(rowDirectionRad, 4), towards(rowDirectionRad + HALF_TURN_RAD, 4)]),
  ];
}

/** What is asked of a bed, as it lies in a frame of its own. */
export function inputInFrame(input: LayoutInput, frame: OwnFrame): LayoutInput {
  const into = (point: PlanPoint): PlanPoint => intoFrame(point, frame);
  const { slope, rowDirectionRad, stubUp } = input;
  return {
    ...input,
    rings: input.rings.map(({ points, edges }) => ringInOrder(points.map(into), edges)),
    obstacles: input.obstacles.map((obstacle) => ({
      ...obstacle,
      outline: ringInOrder(obstacle.outline.map(into), obstacle.outline).points,
    })),
    trees: input.trees.map((tree) => ({ ...tree, at: into(tree.at) })),
    spurPlants: input.spurPlants.map((plant) => ({ ...plant, at: into(plant.at) })),
    stubUp: stubUp && into(stubUp),
    rowDirectionRad: rowDirectionRad === null ? null : rowIn(headingIntoFrame(rowDirectionRad, frame)),
    slope: slope && {
      ...slope,
      towardRad: compassOf(headingIntoFrame(compassOf(slope.towardRad), frame)),
    },
  };
}

/** Rows have no beginning: a heading within half a turn, the last hair below it counted as none. */
function rowIn(headingRad: number): number {
  const within = headingRad % HALF_TURN_RAD;
  return HALF_TURN_RAD - within < SAME_DIRECTION_RAD ? 0 : within;
}

/** A compass bearing, clockwise from north, as a heading, anticlockwise from east; and the other way round. */
const compassOf = (rad: number): number => Math.PI / 2 - rad;

/** A layout made in the frame of its bed, as it lies on the plan. What is remembered of it stays in the frame, which goes with it. */
export function layoutOnPlan(layout: BedLayout, input: LayoutInput, frame: OwnFrame): BedLayout {
  const out = (point: PlanPoint): PlanPoint => outOfFrame(point, frame);
  // A mirror image runs the other way round; rings of ground keep their sense.
  const ring = (points: Ring): Ring => (isMirrored(frame) ? points.map(out).reverse() : points.map(out));
  const ground = (parts: MultiPolygon): MultiPolygon =>
    parts.map(({ outer, holes }) => ({ outer: ring(outer), holes: holes.map(ring) }));
  const run = (one: Run): Run => ({ ...one, path: one.path.map(out), startsAt: out(one.startsAt) });
  const join = (one: Join): Join => ({ ...one, ...out(one) });
  const coverage = (one: Coverage): Coverage => ({
    ...one,
    gaps: one.gaps.map((gap) => ({ ...gap, ...out(gap) })),
  });
  const problem = (one: Problem): Problem => {
    const { x, y } = one.where;
    return x === undefined || y === undefined ? one : { ...one, where: { ...one.where, ...out({ x, y }) } };
  };
  const directionRad = (rad: number): number => {
    const onPlan = halfTurn(headingOutOfFrame(rad, frame));
    const asked = input.rowDirectionRad;
    return asked !== null && Math.abs(sinOf(onPlan - asked)) < SAME_DIRECTION_RAD ? asked : onPlan;
  };
  const alternative = (one: Alternative): Alternative => ({
    ...one,
    directionRad: directionRad(one.directionRad),
    runs: one.runs.map(run),
    joins: one.joins.map(join),
    coverage: coverage(one.coverage),
  });
  return {
    ...layout,
    usable: ground(layout.usable),
    outline: ground(layout.outline),
    directionRad: directionRad(layout.directionRad),
    stubUp: out(layout.stubUp),
    runs: layout.runs.map(run),
    joins: layout.joins.map(join),
    coverage: coverage(layout.coverage),
    alternatives: layout.alternatives.map(alternative),
    memory: layout.memory && { ...layout.memory, frame },
    problems: layout.problems.map(problem),
  };
}
