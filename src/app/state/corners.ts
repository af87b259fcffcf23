import { type PlanPoint, pointBetween } from '../../core/geometry';
import { outlineEdge, outlinesOf } from '../../core/plan';
import { type CornerRef, say, useDesk } from './desk';
import { edit } from './edit';
import { chooseCorner, placeOf } from './selection';

/** Chooses the edge that leaves the chosen corner, so that its kind, its offset and its arc can be set. */
export function nextEdge(): void {
  const { corner } = useDesk.getState();
  const outline =
    corner && outlinesOf(useDesk.getState().history.plan, corner.map, corner.id)[corner.ringIndex];
  if (!corner) say('No corner is chosen.', 'note', 'Choose one thing, then walk its corners with < and >.');
  else if (!outline?.edges[corner.pointIndex])
    say('The line ends at this corner.', 'note', 'Step back with <, then choose the edge.');
  else chooseCorner({ ...corner, part: 'edge' });
}

/** Puts a corner into an edge and chooses it. */
export function insertCorner(edge: CornerRef, at: PlanPoint): void {
  if (edit({ name: 'insert-corner', params: { ...placeOf(edge), at } }))
    chooseCorner({ ...edge, pointIndex: edge.pointIndex + 1, part: 'corner' });
}

/** Puts a corner into the middle of the chosen edge and chooses it. */
export function insertCornerInEdge(): void {
  const { corner, history } = useDesk.getState();
  const outline = corner ? outlinesOf(history.plan, corner.map, corner.id)[corner.ringIndex] : undefined;
  const path = corner && outline ? outlineEdge(outline, corner.pointIndex) : [];
  const [from, to] = [path[0], path.at(-1)];
  if (!corner || !from || !to) {
    say('No edge is chosen.', 'note', 'Press an edge of what is chosen, or Shift Insert at a corner.');
    return;
  }
  insertCorner(corner, pointBetween(from, to, 0.5));
}
