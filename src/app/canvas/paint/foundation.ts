import { distanceM, pointBetween, type Ring } from '../../../core/geometry';
import { pathOfRings } from '../shape/trace';
import { type Brush, pixelsM, WEIGHT_PX, weightM } from './brush';

/** A block is twice as long as the course is wide. */
const BLOCK_RATIO = 2;

/** A course of block along the inside of a wall's line, clipped to the building. */
export function paintFoundationCourse(brush: Brush, rings: readonly Ring[], courseM: number): void {
  const { context, palette } = brush;
  const path = pathOfRings(rings);
  const line = weightM(brush, WEIGHT_PX.thin);
  context.save();
  context.clip(path, 'evenodd');
  context.strokeStyle = palette.ink.ink;
  context.lineWidth = 2 * (courseM + line);
  context.stroke(path);
  context.strokeStyle = palette.ink.paper;
  context.lineWidth = 2 * courseM;
  context.stroke(path);
  context.strokeStyle = palette.ink.ink;
  context.lineWidth = line;
  context.beginPath();
  for (const ring of rings) addBlockJoints(brush, ring, courseM);
  context.stroke();
  context.restore();
}

function addBlockJoints(brush: Brush, ring: Ring, courseM: number): void {
  const blockM = Math.max(courseM * BLOCK_RATIO, pixelsM(brush, 14));
  ring.forEach((from, index) => {
    const to = ring[(index + 1) % ring.length];
    if (!to) return;
    const lengthM = distanceM(from, to);
    const blocks = Math.floor(lengthM / blockM);
    for (let block = 1; block < blocks; block++) {
      const at = pointBetween(from, to, block / blocks);
      const [nx, ny] = [-(to.y - from.y) / lengthM, (to.x - from.x) / lengthM];
      brush.context.moveTo(at.x + nx * courseM, at.y + ny * courseM);
      brush.context.lineTo(at.x - nx * courseM, at.y - ny * courseM);
    }
  });
}
