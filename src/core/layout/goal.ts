import type { WateringGoal } from './loop';
import type { Coverage, LayoutInput } from './types';

/** What is asked of ground with something standing in it, of straight-walled ground, and of all other ground (ours, stated). */
const AMONG_OBSTACLES: WateringGoal = { coveredRatio: 0.994, gapRatio: 0.8 };
const STRAIGHT_WALLED: WateringGoal = { coveredRatio: 0.998, gapRatio: 0.6 };
const OTHER: WateringGoal = { coveredRatio: 0.998, gapRatio: 0.67 };

/** Walls stand square to each other where the sine of twice their angle is below this: a tenth of a degree. */
const SQUARE = 0.004;
/** A shorter edge has no direction to speak of, metres. */
const SHORTEST_EDGE_M = 1e-3;

/**
 * How well a bed is to be watered before shorter tubing and fewer bends count for more than what is still dry: between
 * obstacles less than in the open, in corners that no bend reaches less than between straight walls.
 */
export function wateringGoal({ rings, obstacles }: Pick<LayoutInput, 'rings' | 'obstacles'>): WateringGoal {
  if (rings.length > 1 || obstacles.length > 0) return AMONG_OBSTACLES;
  return isStraightWalled(rings) ? STRAIGHT_WALLED : OTHER;
}

/** Coverage is measured on another grid than tubing was mended on; so much less is still what was asked for. */
const MEASURED_SLACK: WateringGoal = { coveredRatio: 0.003, gapRatio: 0.03 };

/** How far a layout falls short of a goal: not at all; by a gap wider than asked though enough is watered; by less ground watered. */
export type Dryness = 'none' | 'wide-gap' | 'dry';

/** How far a layout that waters so falls short of the goal of its bed. */
export function drynessOf(
  { coveredRatio, maxGapM }: Pick<Coverage, 'coveredRatio' | 'maxGapM'>,
  goal: WateringGoal,
  rowSpacingM: number,
): Dryness {
  if (coveredRatio < goal.coveredRatio - MEASURED_SLACK.coveredRatio) return 'dry';
  return maxGapM <= (goal.gapRatio + MEASURED_SLACK.gapRatio) * rowSpacingM ? 'none' : 'wide-gap';
}

/** Is every edge parallel or square to every other? */
function isStraightWalled(rings: LayoutInput['rings']): boolean {
  const sides = rings.flatMap(({ points }) =>
    points.map((a, index) => {
      const b = points[(index + 1) % points.length]!;
      return { x: b.x - a.x, y: b.y - a.y, lengthM: Math.hypot(b.x - a.x, b.y - a.y) };
    }),
  );
  const walls = sides.filter(({ lengthM }) => lengthM > SHORTEST_EDGE_M);
  return walls.every((wall) => {
    const first = walls[0]!;
    const lengths2 = (wall.lengthM * first.lengthM) ** 2;
    const twiceSine = 2 * (first.x * wall.y - first.y * wall.x) * (first.x * wall.x + first.y * wall.y);
    return Math.abs(twiceSine / lengths2) < SQUARE;
  });
}
