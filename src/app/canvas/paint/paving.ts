import { type Box, distanceM, type Ring } from '../../../core/geometry';
import type { Structure } from '../../../core/plan';
import { structureOutline } from '../shape/outline';
import { type Brush, WEIGHT_PX, weightM } from './brush';

/** Joints of a slab stand this far apart. */
const SLAB_M = 1.5;

/** Direction of the longest edge: slabs lie across it. */
function longestEdgeRad(ring: Ring): number {
  let [bestM, bestRad] = [0, 0];
  ring.forEach((from, index) => {
    const to = ring[(index + 1) % ring.length];
    if (!to || distanceM(from, to) <= bestM) return;
    bestM = distanceM(from, to);
    bestRad = Math.atan2(to.y - from.y, to.x - from.x);
  });
  return bestRad;
}

/** Joints across a paved area; the caller has clipped to it. Left out where they would stand closer than a finger. */
export function paintJoints(brush: Brush, structure: Structure, box: Box): void {
  const { context, palette, view } = brush;
  const ring = structureOutline(structure).rings[0];
  if (!ring || SLAB_M * view.pixelsPerM < 18) return;
  const alongRad = longestEdgeRad(ring);
  const [ux, uy] = [Math.cos(alongRad), Math.sin(alongRad)];
  const middle = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const reachM = Math.hypot(box.maxX - box.minX, box.maxY - box.minY) / 2;
  context.beginPath();
  for (let s = -Math.ceil(reachM / SLAB_M) * SLAB_M; s <= reachM; s += SLAB_M) {
    const [x, y] = [middle.x + ux * s, middle.y + uy * s];
    context.moveTo(x - uy * reachM, y + ux * reachM);
    context.lineTo(x + uy * reachM, y - ux * reachM);
  }
  context.strokeStyle = palette.ink['rule-faint'];
  context.lineWidth = weightM(brush, WEIGHT_PX.thin);
  context.stroke();
}
