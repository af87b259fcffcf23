import { boxesTouch, boxOf, distanceM, type PlanPoint, quantisePoint, segmentCrossing } from '../geometry';
import type { Problem } from '../units';
import type { HeaderPipe, Zone } from './types';

/** A crossing this near an end is a meeting: a tee, a valve, a bend in a shared trench. */
const MEETING_M = 0.02;

type Line = readonly [PlanPoint, PlanPoint];

function crossingAt(one: Line, other: Line): PlanPoint | null {
  const at = segmentCrossing(one[0], one[1], other[0], other[1]);
  const isMeeting = at !== null && [...one, ...other].some((end) => distanceM(end, at) < MEETING_M);
  return isMeeting ? null : at;
}

/** Whether two straight trenches cross each other between their ends. */
export const linesCross = (one: Line, other: Line): boolean => crossingAt(one, other) !== null;

function crossingsOf(one: HeaderPipe, other: HeaderPipe): PlanPoint[] {
  const boxes = [boxOf(one.path), boxOf(other.path)];
  if (!boxes[0] || !boxes[1] || !boxesTouch(boxes[0], boxes[1])) return [];
  const found: PlanPoint[] = [];
  for (let i = 1; i < one.path.length; i++)
    for (let j = 1; j < other.path.length; j++) {
      const at = crossingAt([one.path[i - 1]!, one.path[i]!], [other.path[j - 1]!, other.path[j]!]);
      if (at) found.push(quantisePoint(at));
    }
  return found;
}

/**
 * Every place where the pipe of one zone, or the main, lies over that of another without being joined to it. Trenches are
 * led apart where that costs little; where it cannot be, the crew must know which pipe lies below.
 */
export function pipesThatCross(main: readonly HeaderPipe[], zones: readonly Zone[]): Problem[] {
  const trees = [
    { name: '', pipes: main },
    ...zones.map(({ number, pipes }) => ({ name: String(number), pipes })),
  ];
  return trees.flatMap((one, index) =>
    trees.slice(index + 1).flatMap((other) =>
      one.pipes.flatMap((pipe) =>
        other.pipes.flatMap((second) =>
          crossingsOf(pipe, second).map(
            (at): Problem => ({
              code: 'supply.pipes-cross',
              severity: 'note',
              where: { id: second.id, x: at.x, y: at.y },
              params: {
                first: one.name,
                second: other.name,
                headerDepthM: second.depthM,
                mainDepthM: pipe.depthM,
              },
            }),
          ),
        ),
      ),
    ),
  );
}
