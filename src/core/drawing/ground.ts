import { circlePoints, inflatePath, type PaperView, planToPaper, simplifyRing } from '../geometry';
import type { Plan, Structure, Tree } from '../plan';
import { insideOf, onPaper, ringSteps, ticksAlong } from './lineTypes';
import { circleSteps, pathItem, polylineSteps, stroke, WEIGHT } from './pen';
import { arcCubics } from './svgPath';
import { symbolItems } from './symbols';
import type { DrawingItem } from './types';

type Points = readonly { readonly x: number; readonly y: number }[];

/** Outlines of a structure in plan metres, whatever it was drawn as. */
export function structureRings(structure: Structure): readonly Points[] {
  const { shape } = structure;
  if (shape.kind === 'area') return shape.rings;
  if (shape.kind === 'disc') return [circlePoints(shape.at, shape.radiusM)];
  return inflatePath(shape.path, Math.max(0.02, shape.widthM / 2));
}

const closed = (ring: Points): Points => (ring[0] ? [...ring, ring[0]] : ring);

/** A building: its wall is a course of block, drawn on the inner side so that the outer face is true. */
function buildingItems(structure: Structure, view: PaperView): readonly DrawingItem[] {
  const mark = { layer: 'ground', of: structure.id };
  const rings = structureRings(structure);
  const steps = ringSteps(rings.map((r) => onPaper(r, view)));
  const mPerMm = view.scaleDenominator / 1000;
  const blocks = rings.flatMap((r) => ticksAlong(closed(r), 4.6 * mPerMm, 1.5 * mPerMm, view));
  return [
    pathItem(mark, steps, { fill: 'build', evenOdd: true }),
    insideOf(mark, rings, view, [
      pathItem(mark, steps, { stroke: stroke('ink', 3.4, { join: 'miter' }) }),
      pathItem(mark, steps, { stroke: stroke('paper', 2.7, { join: 'miter' }) }),
      pathItem(mark, blocks, { stroke: stroke('ink', WEIGHT.mid) }),
    ]),
    pathItem(mark, steps, { stroke: stroke('ink', WEIGHT.bold, { join: 'miter' }) }),
  ];
}

/** Paving: a double line with joints on its inner side. */
function pavingItems(structure: Structure, view: PaperView): readonly DrawingItem[] {
  const mark = { layer: 'ground', of: structure.id };
  const rings = structureRings(structure);
  const steps = ringSteps(rings.map((r) => onPaper(r, view)));
  const mPerMm = view.scaleDenominator / 1000;
  const joints = rings.flatMap((r) => ticksAlong(closed(r), 9 * mPerMm, 1.7 * mPerMm, view));
  return [
    pathItem(mark, steps, { fill: 'paving', evenOdd: true }),
    insideOf(mark, rings, view, [
      pathItem(mark, joints, { stroke: stroke('ink-2', WEIGHT.hair) }),
      pathItem(mark, steps, { stroke: stroke('ink-2', 1.5) }),
      pathItem(mark, steps, { stroke: stroke('paving', 1.14) }),
    ]),
    pathItem(mark, steps, { stroke: stroke('ink-2', WEIGHT.thin) }),
  ];
}

function fenceItems(structure: Structure, view: PaperView): readonly DrawingItem[] {
  const mark = { layer: 'ground', of: structure.id };
  const mPerMm = view.scaleDenominator / 1000;
  const paths =
    structure.shape.kind === 'line' ? [structure.shape.path] : structureRings(structure).map(closed);
  return paths.flatMap((path) => {
    const posts = ticksAlong(path, 5 * mPerMm, 0.9 * mPerMm, view);
    const back = ticksAlong(path, 5 * mPerMm, -0.9 * mPerMm, view);
    return [
      pathItem(mark, polylineSteps(onPaper(path, view)), { stroke: stroke('ink', WEIGHT.mid) }),
      pathItem(mark, [...posts, ...back], { stroke: stroke('ink', WEIGHT.bold) }),
    ];
  });
}

function obstacleItems(structure: Structure, view: PaperView): readonly DrawingItem[] {
  const mark = { layer: 'ground', of: structure.id };
  if (structure.shape.kind === 'disc') {
    const sizeMm = (structure.shape.radiusM * 2 * 1000 * 24) / (view.scaleDenominator * 19);
    return symbolItems(mark, 'boulder', planToPaper(structure.shape.at, view), Math.max(2.4, sizeMm));
  }
  const steps = ringSteps(structureRings(structure).map((r) => onPaper(r, view)));
  return [
    pathItem(mark, steps, { fill: 'paper', evenOdd: true, stroke: stroke('ink', WEIGHT.bold) }),
    insideOf(mark, structureRings(structure), view, [
      pathItem(mark, steps, { stroke: stroke('ink', 1.3) }),
      pathItem(mark, steps, { stroke: stroke('paper', 0.8) }),
    ]),
  ];
}

/** A tree to its true canopy and trunk; the trunk never smaller than reads. */
export function treeItems(tree: Tree, view: PaperView): readonly DrawingItem[] {
  const mark = { layer: 'ground', of: tree.id };
  const at = planToPaper(tree.at, view);
  const canopyMm = (tree.canopyRadiusM * 1000) / view.scaleDenominator;
  const trunkMm = Math.max(0.9, (tree.trunkRadiusM * 1000) / view.scaleDenominator);
  const items: DrawingItem[] = [];
  if (canopyMm > 2) {
    const lobes = Math.max(8, Math.round((canopyMm * 2 * Math.PI) / 3.4));
    const turn = (2 * Math.PI) / lobes;
    for (let i = 0; i < lobes; i++) {
      const from = i * turn;
      const inner = canopyMm - Math.min(0.9, canopyMm / 5);
      const end = from + turn * 0.7;
      items.push(
        pathItem(
          mark,
          [
            ['M', at.x + canopyMm * Math.cos(from), at.y + canopyMm * Math.sin(from)],
            ...arcCubics(at.x, at.y, canopyMm, from, turn * 0.7),
            ['L', at.x + inner * Math.cos(end + 0.02), at.y + inner * Math.sin(end + 0.02)],
          ],
          { stroke: stroke('ink-2', WEIGHT.thin) },
        ),
      );
    }
  }
  items.push(...symbolItems(mark, 'tree-trunk', at, (trunkMm * 24) / 8.5));
  return items;
}

/** Everything measured on the ground but the beds, furthest back first. */
export function groundItems(plan: Plan, view: PaperView): readonly DrawingItem[] {
  const kinds: readonly [Structure['kind'], (s: Structure, v: PaperView) => readonly DrawingItem[]][] = [
    ['paving', pavingItems],
    ['building', buildingItems],
    ['fence', fenceItems],
  ];
  const sorted = Object.values(plan.structures).sort((a, b) => (a.id < b.id ? -1 : 1));
  return kinds.flatMap(([kind, draw]) => sorted.filter((s) => s.kind === kind).flatMap((s) => draw(s, view)));
}

/** What stands in or over the beds: obstacles, plants to keep, trees. */
export function standingItems(plan: Plan, view: PaperView): readonly DrawingItem[] {
  const byId = <T extends { id: string }>(map: Record<string, T>): T[] =>
    Object.values(map).sort((a, b) => (a.id < b.id ? -1 : 1));
  return [
    ...byId(plan.structures)
      .filter((s) => s.kind === 'obstacle')
      .flatMap((s) => obstacleItems(s, view)),
    ...byId(plan.plants).map((plant) => {
      const at = planToPaper(plant.at, view);
      const radius = Math.max(0.6, (plant.rootBallRadiusM * 1000) / view.scaleDenominator);
      return pathItem({ layer: 'ground', of: plant.id }, circleSteps(at.x, at.y, radius), {
        stroke: stroke('ink-2', WEIGHT.thin, { dashMm: [0.3, 0.7], cap: 'round' }),
      });
    }),
    ...byId(plan.trees).flatMap((tree) => treeItems(tree, view)),
  ];
}

/** Known buried lines: a chain of long strokes with an open ring between, unlike any line of ours. */
export function utilityItems(plan: Plan, view: PaperView): readonly DrawingItem[] {
  return Object.values(plan.utilities)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map((utility) =>
      pathItem({ layer: 'utilities', of: utility.id }, polylineSteps(onPaper(utility.path, view)), {
        stroke: stroke('ink', WEIGHT.bold, { dashMm: [4, 1.2, 0.01, 1.2, 0.01, 1.2], cap: 'round' }),
      }),
    );
}

/** Features of kinds this version does not know, faint, so that nothing of the file is hidden. */
export function foreignItems(plan: Plan, view: PaperView): readonly DrawingItem[] {
  return Object.values(plan.foreign)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap((foreign) =>
      foreign.lines.map((line) =>
        pathItem(
          { layer: 'ground', of: foreign.id },
          polylineSteps(onPaper(simplifyRing(line, 0.01), view)),
          {
            stroke: stroke('rule', WEIGHT.hair),
          },
        ),
      ),
    );
}
