import type { DesignedBed } from '../../design';
import {
  boxOf,
  type PaperPoint,
  type PaperView,
  planToPaper,
  pointAlong,
  simplifyPath,
} from '../../geometry';
import type { LayMove, LayScript, LayStep } from '../../takeoff';
import type { Part } from '../blocks';
import { circleSteps, pathItem, polylineSteps, SIZE, stroke, textItem, WEIGHT } from '../pen';
import { measureText } from '../text';
import type { DrawingItem } from '../types';

const MOST_TALL_RATIO = 1.1;
const DISC_MM = 1.75;
/** The sketch loses no more than this of a curve, on paper. */
const FINE_MM = 0.1;

const isTurn = (step: LayStep): step is LayMove => step.kind === 'turn';

/** The bed's outline and tubing with the numbers of the turns, as wide as the strip. North is up. */
export function sketchOfBed(bed: DesignedBed, script: LayScript, widthMm: number): Part | null {
  const rings = bed.layout.outline.flatMap((polygon) => [polygon.outer, ...polygon.holes]);
  const box = boxOf(rings.flat());
  if (!box) return null;
  const [wide, tall] = [box.maxX - box.minX, box.maxY - box.minY];
  const mmPerM = Math.min((widthMm - 4) / wide, (widthMm * MOST_TALL_RATIO - 4) / tall);
  const heightMm = tall * mmPerM + 5;
  return {
    heightMm,
    draw: (x, y) => {
      const view: PaperView = {
        plan: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 },
        paper: { x: x + widthMm / 2, y: y + heightMm / 2 },
        scaleDenominator: 1000 / mmPerM,
        turnRad: 0,
      };
      const mark = { layer: 'tables', group: `lay-${bed.id}` };
      const onPaper = (path: readonly { x: number; y: number }[]): PaperPoint[] =>
        simplifyPath(path, FINE_MM / mmPerM).map((p) => planToPaper(p, view));
      return [
        ...rings.map((ring) =>
          pathItem(mark, polylineSteps(onPaper(ring), true), { stroke: stroke('ink-3', WEIGHT.thin) }),
        ),
        ...bed.layout.runs.map((run) =>
          pathItem(mark, polylineSteps(onPaper(run.path)), { stroke: stroke('ink', WEIGHT.bold) }),
        ),
        ...numbers(bed, script, view, mark),
      ];
    },
  };
}

/** Numbers of turns on their bends; where bends crowd, the next number stands for those it leaves no room for. */
function numbers(
  bed: DesignedBed,
  script: LayScript,
  view: PaperView,
  mark: { readonly layer: string; readonly group: string },
): readonly DrawingItem[] {
  const placed: PaperPoint[] = [];
  return script.runs.flatMap((laid) => {
    const run = bed.layout.runs.find((r) => r.id === laid.runId);
    if (!run) return [];
    return laid.steps.flatMap((step, i): DrawingItem[] => {
      if (step.kind !== 'begin' && !isTurn(step)) return [];
      const middleM = isTurn(step) ? (step.fromM + step.alongM) / 2 : 0;
      const at = planToPaper(pointAlong(run.path, middleM).at, view);
      const text = String(i + 1);
      const radiusMm = Math.max(DISC_MM, measureText(text, 'narrow-semibold', SIZE.small) / 2 + 0.35);
      if (placed.some((p) => Math.hypot(p.x - at.x, p.y - at.y) < 2 * radiusMm + 0.4)) return [];
      if (run.emittersM.length === 0) return [];
      placed.push(at);
      return [
        pathItem(mark, circleSteps(at.x, at.y, radiusMm), {
          fill: 'paper',
          stroke: stroke('ink', WEIGHT.hair),
        }),
        textItem(mark, { x: at.x, y: at.y + SIZE.small * 0.34 }, text, {
          font: 'narrow-semibold',
          sizeMm: SIZE.small,
          anchor: 'middle',
        }),
      ];
    });
  });
}
