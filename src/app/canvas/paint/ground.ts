import { type Box, boxesTouch } from '../../../core/geometry';
import type { Plan, Structure } from '../../../core/plan';
import { bedOutline, structureOutline } from '../shape/outline';
import { pathOfRings } from '../shape/trace';
import { type Brush, onPlan, pixelsM, WEIGHT_PX, weightM } from './brush';
import { paintFoundationCourse } from './foundation';
import { paintJoints } from './paving';

/** Width of a course of block, laid along the inside of a wall. */
const COURSE_M = 0.2;

/** Paving first, then beds, then what stands on the ground, so that no fill buries a line. */
export function paintGround(brush: Brush, plan: Plan): void {
  onPlan(brush);
  const structures = Object.values(plan.structures).filter((one) =>
    inSight(brush, structureOutline(one).box),
  );
  for (const one of structures) if (one.kind === 'paving') paintPaving(brush, one);
  paintBeds(brush, plan);
  for (const one of structures) {
    if (one.kind === 'building') paintBuilding(brush, one);
    else if (one.kind === 'fence') paintFence(brush, one);
    else if (one.kind === 'obstacle') paintObstacle(brush, one);
  }
}

const inSight = (brush: Brush, box: Box): boolean => boxesTouch(brush.sight, box);

/** The edge line lies outside its ring: drawn double, then the ground is laid over its inner half. */
function paintBeds(brush: Brush, plan: Plan): void {
  const { context, palette } = brush;
  context.lineJoin = 'miter';
  context.miterLimit = 4;
  for (const bed of Object.values(plan.beds)) {
    const outline = bedOutline(bed);
    if (!inSight(brush, outline.box)) continue;
    const path = pathOfRings(outline.rings);
    context.strokeStyle = palette.ink.ink;
    context.lineWidth = 2 * weightM(brush, WEIGHT_PX.bold);
    context.stroke(path);
    context.fillStyle = palette.ink.bed;
    context.fill(path, 'evenodd');
  }
}

function paintPaving(brush: Brush, structure: Structure): void {
  const { context, palette } = brush;
  const outline = structureOutline(structure);
  const path = pathOfRings(outline.rings);
  context.save();
  context.fillStyle = palette.ink.paving;
  context.fill(path, 'evenodd');
  context.clip(path, 'evenodd');
  const gap = pixelsM(brush, 4);
  const line = weightM(brush, WEIGHT_PX.thin);
  context.strokeStyle = palette.ink['ink-3'];
  context.lineWidth = 2 * (gap + line);
  context.stroke(path);
  context.strokeStyle = palette.ink.paving;
  context.lineWidth = 2 * gap;
  context.stroke(path);
  paintJoints(brush, structure, outline.box);
  context.restore();
  context.strokeStyle = palette.ink['ink-2'];
  context.lineWidth = weightM(brush, WEIGHT_PX.thin);
  context.stroke(path);
}

function paintBuilding(brush: Brush, structure: Structure): void {
  const { context, palette, view } = brush;
  const outline = structureOutline(structure);
  const path = pathOfRings(outline.rings);
  context.fillStyle = palette.ink.build;
  context.fill(path, 'evenodd');
  if (COURSE_M * view.pixelsPerM > 3) {
    paintFoundationCourse(brush, outline.rings, COURSE_M);
  }
  context.strokeStyle = palette.ink.ink;
  context.lineWidth = weightM(brush, WEIGHT_PX.bold);
  context.stroke(path);
}

function paintFence(brush: Brush, structure: Structure): void {
  const { context, palette } = brush;
  const chain = structure.shape.kind === 'line' ? structure.shape.path : structureOutline(structure).rings[0];
  if (!chain) return;
  const path = new Path2D();
  chain.forEach((point, index) => {
    if (index === 0) path.moveTo(point.x, point.y);
    else path.lineTo(point.x, point.y);
  });
  context.strokeStyle = palette.ink['ink-2'];
  context.lineWidth = weightM(brush, WEIGHT_PX.mid);
  context.stroke(path);
  const post = pixelsM(brush, 5);
  context.fillStyle = palette.ink['ink-2'];
  for (const point of chain) context.fillRect(point.x - post / 2, point.y - post / 2, post, post);
}

function paintObstacle(brush: Brush, structure: Structure): void {
  const { context, palette } = brush;
  const outline = structureOutline(structure);
  const path = pathOfRings(outline.rings);
  context.fillStyle = palette.ink.paper;
  context.fill(path, 'evenodd');
  context.save();
  context.clip(path, 'evenodd');
  const { box } = outline;
  const middle = { x: box.minX + (box.maxX - box.minX) * 0.45, y: box.minY + (box.maxY - box.minY) * 0.6 };
  context.strokeStyle = palette.ink['ink-2'];
  context.lineWidth = weightM(brush, WEIGHT_PX.thin);
  context.beginPath();
  // Three facets meet at one point, as on a boulder seen from above.
  for (const [x, y] of [
    [box.minX, box.maxY],
    [box.maxX, (box.minY + box.maxY) / 2],
    [box.minX + (box.maxX - box.minX) * 0.4, box.minY],
  ] as const) {
    context.moveTo(middle.x, middle.y);
    context.lineTo(x, y);
  }
  context.stroke();
  context.restore();
  context.strokeStyle = palette.ink.ink;
  context.lineWidth = weightM(brush, WEIGHT_PX.mid);
  context.stroke(path);
}
