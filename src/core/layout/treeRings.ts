import {
  circlePoints,
  closeRing,
  cosOf,
  distanceM,
  headingOf,
  type MultiPolygon,
  nearestOnPath,
  type PlanPoint,
  pointInMultiPolygon,
  sinOf,
} from '../geometry';
import { leastSeparationM } from './loop';
import type { Circuit, Sketch, SketchJoin, SketchRun } from './sketch';
import type { LayoutInput, Obstacle } from './types';

type RingedTree = LayoutInput['trees'][number];

/** Trees that get a ring: rings are asked for, and each lies on usable ground and is no tighter than the tubing bears. */
export function ringedTrees(input: LayoutInput, usable: MultiPolygon): readonly RingedTree[] {
  if (!input.treeRings) return [];
  const hairM = 0.005;
  return input.trees.filter((tree) => {
    if (tree.ringRadiusM < input.bendRadiusM) return false;
    return circlePoints(tree.at, tree.ringRadiusM + hairM).every((point) =>
      pointInMultiPolygon(point, usable),
    );
  });
}

/** The obstacles as the rows must see them: a ringed tree is kept off by its ring and the least separation beyond it. */
export function obstaclesBesideRings(input: LayoutInput, trees: readonly RingedTree[]): Obstacle[] {
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM);
  const discs = trees.map((tree) => ({
    id: `${tree.id}:ring`,
    outline: circlePoints(tree.at, tree.ringRadiusM),
    clearanceM: leastM + 0.005,
  }));
  return [...input.obstacles, ...discs];
}

/** A sketch with a ring of tubing round each tree, tied by a plain link to the nearest tubing, a tee at both ends. */
export function withTreeRings(sketch: Sketch, trees: readonly RingedTree[]): Sketch {
  if (trees.length === 0) return sketch;
  const added = sketch.circuits.map(() => ({ runs: [] as SketchRun[], joins: [] as SketchJoin[] }));
  trees.forEach((tree, index) => {
    const tie = nearestTubing(tree.at, sketch.circuits);
    if (!tie || tie.distanceM <= tree.ringRadiusM) return;
    const from = headingOf(tie.at.y - tree.at.y, tie.at.x - tree.at.x);
    const points = circlePoints({ x: 0, y: 0 }, tree.ringRadiusM).map((point) => ({
      x: tree.at.x + point.x * cosOf(from) - point.y * sinOf(from),
      y: tree.at.y + point.x * sinOf(from) + point.y * cosOf(from),
    }));
    const ringKey = `ring-${index + 1}`;
    const linkKey = `ring-link-${index + 1}`;
    const start = points[0]!;
    added[tie.circuit]!.runs.push(
      { key: ringKey, role: 'ring', closed: true, path: closeRing(points) },
      { key: linkKey, role: 'connector', use: 'link', closed: false, path: [tie.at, start] },
    );
    added[tie.circuit]!.joins.push(
      { at: tie.at, runKeys: [tie.runKey, linkKey], fitting: 'tee' },
      { at: start, runKeys: [linkKey, ringKey], fitting: 'tee' },
    );
  });
  const circuits = sketch.circuits.map((circuit, index): Circuit => {
    const more = added[index]!;
    return { ...circuit, runs: [...circuit.runs, ...more.runs], joins: [...circuit.joins, ...more.joins] };
  });
  return { ...sketch, circuits };
}

function nearestTubing(
  from: PlanPoint,
  circuits: readonly Circuit[],
): { at: PlanPoint; distanceM: number; circuit: number; runKey: string } | null {
  let best: { at: PlanPoint; distanceM: number; circuit: number; runKey: string } | null = null;
  circuits.forEach((circuit, index) => {
    for (const run of circuit.runs) {
      if (run.role === 'connector') continue;
      const near = nearestOnPath(from, run.path);
      if (!best || near.distanceM < best.distanceM)
        best = { at: near.at, distanceM: distanceM(from, near.at), circuit: index, runKey: run.key };
    }
  });
  return best;
}
