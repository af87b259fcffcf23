import {
  areNeighboursSought,
  type DesignedBed,
  dryBetween,
  type WettedGround,
  wettedGround,
} from '../design';
import { boxOfAll, type PaperView, type PlanPoint, planToPaper, ringsOf } from '../geometry';
import { plotWords } from '../words';
import type { Block, PaperRect } from './blocks';
import { pathItem, stroke, WEIGHT } from './pen';
import { PLOT_MARK, plotBlock } from './plotAxes';
import type { DrawingItem, Ink, PathStep } from './types';

const TALLEST_MM = 90;
const EDGE_MM = 0.12;
const SHORTEST_MM = 0.5;

/** The view that brings a bed into a width, upright as drawn, and how high it then is. */
function viewOfBed(
  bed: DesignedBed,
  widthMm: number,
): { readonly view: (rect: PaperRect) => PaperView; readonly heightMm: number; readonly mmPerM: number } {
  const box = boxOfAll(ringsOf(bed.layout.outline)) ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 };
  const beyondM = bed.choice.wettedDiameterM.high / 2;
  const [wideM, highM] = [box.maxX - box.minX + 2 * beyondM, box.maxY - box.minY + 2 * beyondM];
  const mmPerM = Math.min(widthMm / wideM, TALLEST_MM / highM);
  return {
    mmPerM,
    heightMm: highM * mmPerM,
    view: (rect) => ({
      plan: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 },
      paper: { x: rect.x + rect.widthMm / 2, y: rect.y + rect.heightMm / 2 },
      scaleDenominator: 1000 / mmPerM,
      turnRad: 0,
    }),
  };
}

/** Every emitter as a point of one path: stroked with round ends, each becomes a circle and all together one ground. */
const pointSteps = (emitters: readonly PlanPoint[], view: PaperView): PathStep[] =>
  emitters.flatMap((emitter): PathStep[] => {
    const { x, y } = planToPaper(emitter, view);
    return [
      ['M', x, y],
      ['L', x, y],
    ];
  });

const circles = (steps: readonly PathStep[], widthMm: number, ink: Ink): DrawingItem =>
  pathItem(PLOT_MARK, steps, { stroke: stroke(ink, widthMm, { cap: 'round' }) });

/** Wetted ground of one bed on its plan: by the drier model washed, by the wetter lined, and what may stay dry between neighbours. */
export function wettedPlanItems(
  bed: DesignedBed,
  ground: WettedGround,
  rect: PaperRect,
): readonly DrawingItem[] {
  const { view: viewIn, mmPerM } = viewOfBed(bed, rect.widthMm);
  const view = viewIn(rect);
  const steps = pointSteps(ground.emitters, view);
  const { low, high } = bed.choice.wettedDiameterM;
  const outline = ringsOf(bed.layout.outline).flatMap((ring): PathStep[] => [
    ...ring.map((point, index): PathStep => {
      const { x, y } = planToPaper(point, view);
      return [index === 0 ? 'M' : 'L', x, y];
    }),
    ['Z'],
  ]);
  const dry = ground.narrow.gaps.flatMap((pair): PathStep[] => {
    const [a, b] = dryBetween(pair, low, SHORTEST_MM / mmPerM).map((point) => planToPaper(point, view));
    return [
      ['M', a!.x, a!.y],
      ['L', b!.x, b!.y],
    ];
  });
  return [
    circles(steps, high * mmPerM + 2 * EDGE_MM, 'ink-3'),
    circles(steps, high * mmPerM, 'leaf'),
    circles(steps, low * mmPerM + 2 * EDGE_MM, 'water'),
    circles(steps, low * mmPerM, 'water-wash'),
    ...(dry.length > 0 ? [pathItem(PLOT_MARK, dry, { stroke: stroke('check', WEIGHT.thin) })] : []),
    circles(steps, 0.35, 'water'),
    pathItem(PLOT_MARK, outline, { stroke: stroke('ink', WEIGHT.mid) }),
  ];
}

/** The wetted ground of one bed as a block of the calculations sheet; null where it holds no emitter or too many. */
export function wettedPlanBlock(bed: DesignedBed, lengthText: (lengthM: number) => string): Block | null {
  const ground = areNeighboursSought(bed) ? wettedGround(bed) : null;
  if (ground === null) return null;
  const { low, high } = bed.choice.wettedDiameterM;
  const note = plotWords.wettedNote({
    low: lengthText(low),
    high: lengthText(high),
    along: ground.narrow.along,
    acrossNarrow: ground.narrow.acrossWorstPhase,
    acrossWide: ground.wide.acrossWorstPhase,
  });
  return plotBlock(
    `plot-wetted-${bed.id}`,
    plotWords.wetted(bed.mark),
    note,
    (widthMm) => viewOfBed(bed, widthMm).heightMm + 1,
    (rect) => wettedPlanItems(bed, ground, rect),
  );
}
