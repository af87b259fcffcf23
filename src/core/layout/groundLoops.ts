import { multiPolygonAreaM2, type Polygon, polygonAreaM2 } from '../geometry';
import { wateringGoal } from './goal';
import { type LoopRequest, type LoopRoute, leastSeparationM, type Mending, routeLoop } from './loop';
import { contourRad } from './loop/candidates';
import type { Circuit, Sketch } from './sketch';
import type { LayoutInput } from './types';
import { verifyRuns } from './verify';

/** One jig serves the bed where rows are a multiple of this apart (half an inch; ours, shown). */
const JIG_STEP_M = 0.0127;
/** Tubing beyond area over spacing that a loop takes, as a guess before it is drawn. */
const EXPECTED_RATIO = 1.06;

/** On larger ground the other direction is not worth the time it takes to draw, m2. */
export const MOST_AREA_BOTH_WAYS_M2 = 150;

/** Tubing that loops on a piece of ground will about take, metres. */
export const expectedLengthM = (ground: Polygon, input: LayoutInput): number =>
  (EXPECTED_RATIO * polygonAreaM2(ground)) / input.rowSpacingM;

/** The direction rows are bound to, by the designer or by the slope, anticlockwise from east. */
export const wantedDirection = (input: LayoutInput): number =>
  input.rowDirectionRad ?? (input.slope ? contourRad(input.slope.towardRad) : 0);

/** May rows run in any direction? */
export const isFree = (input: LayoutInput): boolean => input.rowDirectionRad === null && input.slope === null;

/** On larger ground rows' ends are not dented towards what they leave dry: the time it takes is not worth it there, m2. */
const MOST_AREA_DENTED_M2 = 1200;

/** What the router is asked for a piece of ground of the bed: all but how dry ground is mended. */
export function loopRequest(
  ground: Polygon,
  input: LayoutInput,
  stretchRatio: number,
  directionRad: number | null,
  quality: LoopRequest['quality'] = input.quality,
  leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM),
): LoopRequest {
  const memory = input.previous;
  return {
    usable: [ground],
    routable: [ground],
    rowSpacingM: input.rowSpacingM,
    rowStretchRatio: stretchRatio,
    jigStepM: JIG_STEP_M,
    directionRad,
    minSeparationM: leastM,
    bendRadiusM: input.bendRadiusM,
    stubUp: input.stubUp,
    slope: input.slope,
    maxLoopLengthM: input.maxRunM,
    quality,
    goal: wateringGoal(input),
    memory: memory?.topology ? { directionRad: memory.directionRad, key: memory.topology } : null,
    turnWeightM: input.turnWeightM,
  };
}

/** Loops on a piece of ground of the bed, with its own spacing, bends, stub-up and length limit. */
export function routeGround(
  ground: Polygon,
  input: LayoutInput,
  stretchRatio: number,
  directionRad: number | null,
  quality?: LoopRequest['quality'],
  leastM?: number,
): LoopRoute {
  return routeMended(loopRequest(ground, input, stretchRatio, directionRad, quality, leastM), input);
}

/**
 * Loops mended by dents; where dents leave one that does not hold on the bed, and on large ground, without them; where nothing
 * that mends them leaves one that holds, as they were laid.
 *
 * @param sketched  how what was routed lies on the bed, where that is not as it was routed
 */
export function routeMended(
  request: LoopRequest,
  input: LayoutInput,
  sketched: (found: LoopRoute) => Sketch = (found) => sketchOf('', found),
): LoopRoute {
  const isDented = multiPolygonAreaM2(request.usable) <= MOST_AREA_DENTED_M2;
  const mending: readonly Mending[] = isDented ? ['dented', 'pulled', 'bare'] : ['pulled', 'bare'];
  return routeLoop({ ...request, mending }, (found) => isSound(sketched(found), input));
}

/** What the router found as a sketch to be judged. */
export function sketchOf(key: string, found: LoopRoute): Sketch {
  return {
    layout: 'loop',
    rowSpacingM: found.rowSpacingM,
    directionRad: found.directionRad,
    key,
    topology: found.key,
    circuits: found.loops.map(
      (loop): Circuit => ({
        runs: [{ key: 'loop', role: 'loop', closed: true, path: loop.path }],
        joins: [],
        flushKey: 'loop',
        canTurn: false,
      }),
    ),
  };
}

/** Does a sketch pass the verifier before anything is fed or flushed? */
export function isSound(sketch: Sketch, input: LayoutInput): boolean {
  const { rings, obstacles, rowSpacingM, bendRadiusM } = input;
  const idOf = (circuit: number, key: string): string => `${circuit}:${key}`;
  const runs = sketch.circuits.flatMap((circuit, index) =>
    circuit.runs.map(({ key, role, closed, path }) => ({ id: idOf(index, key), role, closed, path })),
  );
  const joins = sketch.circuits.flatMap((circuit, index) =>
    circuit.joins.map((join) => ({
      x: join.at.x,
      y: join.at.y,
      runIds: join.runKeys.map((key) => idOf(index, key)),
      fitting: join.fitting,
    })),
  );
  return verifyRuns({ rings, obstacles, runs, joins, rowSpacingM, bendRadiusM }).passed;
}
