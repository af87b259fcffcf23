import {
  arcPoints,
  type Box,
  boxOfAll,
  circlePoints,
  growBox,
  inflatePath,
  type Polyline,
  type Ring,
  rectangleRing,
  rotatePoints,
} from '../../../core/geometry';
import type { Bed, Plan, Structure, Underlay } from '../../../core/plan';

/** The outline of a drawn thing in plan metres, arcs as points, with its box. */
export interface Outline {
  readonly rings: readonly Ring[];
  readonly box: Box;
}

const NOWHERE: Box = { minX: 0, minY: 0, maxX: 0, maxY: 0 };
const bedOutlines = new WeakMap<Bed, Outline>();
const structureOutlines = new WeakMap<Structure, Outline>();

function remembered<K extends object>(
  memory: WeakMap<K, Outline>,
  key: K,
  make: () => readonly Ring[],
): Outline {
  const known = memory.get(key);
  if (known) return known;
  const rings = make();
  const outline = { rings, box: boxOfAll(rings) ?? NOWHERE };
  memory.set(key, outline);
  return outline;
}

/** The points of one edge of a bed's ring, both ends included. */
export function edgePoints(ring: Bed['rings'][number], pointIndex: number): Polyline {
  const from = ring.points[pointIndex];
  const to = ring.points[(pointIndex + 1) % ring.points.length];
  if (!from || !to) return [];
  return arcPoints(from, to, ring.edges[pointIndex]?.sagittaM ?? 0);
}

/** A bed as it is drawn: every ring, arcs as points. Remembered by identity. */
export function bedOutline(bed: Bed): Outline {
  return remembered(bedOutlines, bed, () =>
    bed.rings.map((ring) => ring.points.flatMap((_point, index) => edgePoints(ring, index).slice(0, -1))),
  );
}

/** Building, paving, fence or obstacle as areas; a fence without a width gets a hand's breadth. */
export function structureOutline(structure: Structure): Outline {
  const { shape } = structure;
  return remembered(structureOutlines, structure, () => {
    if (shape.kind === 'area') return shape.rings;
    if (shape.kind === 'disc') return [circlePoints(shape.at, Math.max(shape.radiusM, 0.01), 0.005)];
    return inflatePath(shape.path, Math.max(shape.widthM / 2, 0.03));
  });
}

/** The ground that holds everything drawn, with a little round it; null on an empty plan. */
export function boxOfPlan(plan: Plan): Box | null {
  const points = [
    ...Object.values(plan.trees),
    ...Object.values(plan.plants),
    ...Object.values(plan.sources),
    ...Object.values(plan.valves),
    ...Object.values(plan.controllers),
    ...Object.values(plan.spots),
    ...Object.values(plan.notes),
  ].map((item) => item.at);
  const chains: Polyline[] = [
    points,
    ...Object.values(plan.beds).flatMap((bed) => bedOutline(bed).rings),
    ...Object.values(plan.structures).flatMap((structure) => structureOutline(structure).rings),
    ...[...Object.values(plan.utilities), ...Object.values(plan.lockedPipes)].map((line) => line.path),
    ...Object.values(plan.underlays).map(pictureCorners),
    ...Object.values(plan.underlays).flatMap(underlayCorners),
  ];
  const box = boxOfAll(chains);
  return box && growBox(box, 0.5);
}

/** Corners of a picture as it lies on the ground, anticlockwise from its lower left. */
export function underlayCorners(underlay: Plan['underlays'][string]): readonly Ring[] {
  if (underlay.kind === 'reference') return underlay.lines;
  const wideM = underlay.widthPx * underlay.metresPerPixel;
  const highM = underlay.heightPx * underlay.metresPerPixel;
  const [cos, sin] = [Math.cos(underlay.turnRad), Math.sin(underlay.turnRad)];
  const corner = (x: number, y: number) => ({
    x: underlay.originX + x * cos - y * sin,
    y: underlay.originY + x * sin + y * cos,
  });
  return [[corner(0, 0), corner(wideM, 0), corner(wideM, highM), corner(0, highM)]];
}

/** The four corners of a picture as it lies on the plan. */
export function pictureCorners(underlay: Underlay): Ring {
  const { originX: x, originY: y, metresPerPixel, widthPx, heightPx, turnRad } = underlay;
  const far = { x: x + widthPx * metresPerPixel, y: y + heightPx * metresPerPixel };
  return rotatePoints(rectangleRing({ x, y }, far), turnRad, { x, y });
}
