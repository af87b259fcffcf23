import type { Polyline } from '../../core/geometry';
import { type Bed, type Command, carriedOn, plainBed, splitRings } from '../../core/plan';
import { type PathState, pathTool } from './path';
import type { Tool, ToolContext, ToolRefusal } from './tool';

/** How far the line is seen to be carried on beyond its ends. */
const SEEN_BEYOND_M = 100;

/** One piece of a split bed: it keeps the bed's choices; what was fixed to a place is found again. */
function pieceOf(bed: Bed, rings: Bed['rings'], id: string, number: number): Bed {
  const name = bed.name === '' ? '' : `${bed.name} ${number}`;
  return { ...plainBed(id, rings), ...bed, id, rings, name, stubUp: null, lockedRoute: null };
}

/** The chosen beds cut along a line; those it misses stay as they are. */
export function splitCommand(path: Polyline, context: ToolContext): Command | ToolRefusal {
  const beds = context.selection.flatMap((item) =>
    item.map === 'beds' ? (context.plan.beds[item.id] ?? []) : [],
  );
  const cuts = beds.map((bed) => ({ bed, split: splitRings(bed, path) }));
  if (cuts.some(({ split }) => split.kind === 'crosses-itself'))
    return { refusal: 'The line, carried on straight, crosses itself: draw it again.' };
  const made = cuts.flatMap(({ bed, split }) =>
    split.kind === 'split' ? [{ bed, pieces: split.pieces }] : [],
  );
  if (made.length === 0) return { refusal: 'The line passes the chosen bed by: draw it across.' };
  const remove = made.map(({ bed }) => ({ map: 'beds', id: bed.id }));
  const put = made.flatMap(({ bed, pieces }) =>
    pieces.map((rings, index) => ({
      map: 'beds',
      item: pieceOf(bed, rings, context.newId('bed'), index + 1),
    })),
  );
  return { name: 'replace-items', params: { remove, put } };
}

const drawn = pathTool('cut', splitCommand);

/** Cuts the chosen bed along any line: placed bend by bend, carried on straight at both ends, done with Return. */
export const splitTool: Tool<PathState> = {
  ...drawn,
  take(state, event, context) {
    const step = drawn.take(state, event, context);
    return step.command ? { ...step, isOver: true } : step;
  },
  draft(state, context) {
    const draft = drawn.draft(state, context);
    const points = state.pointer ? [...state.points, state.pointer] : state.points;
    const [before, after] = [carriedOn(points, SEEN_BEYOND_M), points];
    const ends: Polyline[] =
      before.length > after.length ? [before.slice(0, 2), before.slice(-2)].map((end) => [...end]) : [];
    const lines = ends.map((end) => ({ points: end, isClosed: false, style: 'closing' as const }));
    return { ...draft, lines: [...draft.lines, ...lines] };
  },
};
