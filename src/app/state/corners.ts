import { pointBetween } from '../../core/geometry';
import { say, useDesk } from './desk';
import { edit } from './edit';
import { chooseCorner } from './selection';

/** Chooses the edge that leaves the chosen corner, so that its kind, its offset and its arc can be set. */
export function nextEdge(): void {
  const { corner } = useDesk.getState();
  if (corner) chooseCorner({ ...corner, part: 'edge' });
  else say('No corner is chosen.', 'note', 'Choose a bed, then walk its corners with < and >.');
}

/** Puts a corner into the middle of the chosen edge and chooses it. */
export function insertCornerInEdge(): void {
  const { corner, history } = useDesk.getState();
  const ring = corner ? history.plan.beds[corner.bedId]?.rings[corner.ringIndex] : undefined;
  const from = corner && ring?.points[corner.pointIndex];
  const to = corner && ring?.points[(corner.pointIndex + 1) % (ring?.points.length ?? 1)];
  if (!corner || !from || !to) {
    say('No edge is chosen.', 'note', 'Press an edge of the chosen bed first.');
    return;
  }
  const { bedId: id, ringIndex, pointIndex } = corner;
  if (
    edit({ name: 'insert-corner', params: { id, ringIndex, pointIndex, at: pointBetween(from, to, 0.5) } })
  ) {
    chooseCorner({ bedId: id, ringIndex, pointIndex: pointIndex + 1, part: 'corner' });
  }
}
