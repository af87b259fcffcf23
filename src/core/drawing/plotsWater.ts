import type { DesignedBed } from '../design';
import { wettingOfChoice, type ZoneSchedule } from '../soilwater';
import type { UnitSystem } from '../units';
import { monthName, plotWords } from '../words';
import type { Block, PaperRect } from './blocks';
import { lineItem, pathItem, polylineSteps, rectSteps, SIZE, stroke, textItem, WEIGHT } from './pen';
import { PLOT_MARK, PLOT_UNITS, plotBlock, plotField } from './plotAxes';
import type { DrawingItem, PathStep } from './types';

const SQUARE_MM = 1.5;

/** A square mark about a place, full for what is held, hollow for what is asked. */
export const squareSteps = (x: number, y: number, sizeMm = SQUARE_MM): readonly PathStep[] =>
  rectSteps(x - sizeMm / 2, y - sizeMm / 2, sizeMm, sizeMm);

/** Depth to give by month as bars, and what the whole minutes give as full squares above them. */
export function seasonItems(zone: ZoneSchedule, system: UnitSystem, rect: PaperRect): readonly DrawingItem[] {
  const unit = PLOT_UNITS[system].water;
  const most = Math.max(...zone.months.flatMap((month) => [month.grossM, month.appliedM]));
  const field = plotField(
    rect,
    {
      from: 0,
      to: 12,
      unit: { name: '', si: 1 },
      label: plotWords.month,
      isWater: false,
      isCounted: false,
    },
    { from: 0, to: most, unit, label: plotWords.depth(unit.name) },
  );
  const stepMm = field.frame.widthMm / 12;
  const bottom = field.frame.y + field.frame.heightMm;
  const bars = zone.months.flatMap((month, index): readonly DrawingItem[] => {
    const x = field.frame.x + (index + 0.5) * stepMm;
    const y = field.y(month.grossM);
    return [
      pathItem(PLOT_MARK, rectSteps(x - stepMm * 0.3, y, stepMm * 0.6, bottom - y), {
        fill: 'water-wash',
        stroke: stroke('water', WEIGHT.thin),
      }),
      pathItem(PLOT_MARK, squareSteps(x, field.y(month.appliedM)), { fill: 'water' }),
      textItem(PLOT_MARK, { x, y: bottom + 3.1 }, monthName(month.month), {
        sizeMm: SIZE.small,
        anchor: 'middle',
      }),
    ];
  });
  return [...field.items, ...bars];
}

/** Half an ellipse hanging from the ground, as a polyline. */
function bulbSteps(x: number, y: number, halfWidthMm: number, depthMm: number): readonly PathStep[] {
  const points = Array.from({ length: 25 }, (_, index) => {
    const angle = (index / 24) * Math.PI;
    return { x: x - halfWidthMm * Math.cos(angle), y: y + depthMm * Math.sin(angle) };
  });
  return polylineSteps(points);
}

type SectionBed = Pick<DesignedBed, 'choice' | 'layout'>;

/** Room above the ground for row spacing and emitters, and below the deepest place; the tallest section. */
const ABOVE_MM = 6;
const BELOW_MM = 4;
const TALLEST_MM = 30;

/** Paper millimetres a metre of section, the same both ways, and the ground that three rows span. */
function sectionScale(bed: SectionBed, widthMm: number): { scale: number; spanM: number; heightMm: number } {
  const wetted = wettingOfChoice(bed.choice);
  const spanM = 2 * bed.layout.rowSpacingM + wetted.diameterM.high;
  const deepestM = wetted.depthM.high;
  const scale = Math.min((widthMm - 24) / spanM, (TALLEST_MM - ABOVE_MM - BELOW_MM) / deepestM);
  return { scale, spanM, heightMm: ABOVE_MM + deepestM * scale + BELOW_MM };
}

/** Three rows in section at one scale both ways: what each emitter wets by the two models. */
export function sectionItems(
  bed: SectionBed,
  rect: PaperRect,
  lengthText: (lengthM: number) => string,
): readonly DrawingItem[] {
  const wetted = wettingOfChoice(bed.choice);
  const rowM = bed.layout.rowSpacingM;
  const { scale, spanM } = sectionScale(bed, rect.widthMm);
  const middle = rect.x + rect.widthMm / 2 - 8;
  const y = rect.y + ABOVE_MM;
  const models = [
    { bulb: wetted.schwartzmanZur, line: stroke('water', WEIGHT.mid) },
    { bulb: wetted.aminEkhmaj, line: stroke('water', WEIGHT.mid, { dashMm: [1.6, 1] }) },
  ];
  const rows = [-1, 0, 1].flatMap((row): readonly DrawingItem[] => {
    const x = middle + row * rowM * scale;
    return [
      ...models.map(({ bulb, line }) =>
        pathItem(PLOT_MARK, bulbSteps(x, y, (bulb.diameterM / 2) * scale, bulb.depthM * scale), {
          stroke: line,
        }),
      ),
      pathItem(PLOT_MARK, squareSteps(x, y - 0.9), { fill: 'water' }),
    ];
  });
  const reach = (spanM / 2) * scale + 4;
  const deepest = y + wetted.depthM.high * scale;
  const besideX = middle + reach + 2;
  return [
    lineItem(PLOT_MARK, { x: middle - reach, y }, { x: middle + reach, y }, stroke('ink', WEIGHT.bold)),
    ...rows,
    lineItem(PLOT_MARK, { x: besideX, y }, { x: besideX, y: deepest }, stroke('ink-2', WEIGHT.thin)),
    textItem(
      PLOT_MARK,
      { x: besideX + 1, y: (y + deepest) / 2 + 0.7 },
      `${lengthText(wetted.depthM.low)} - ${lengthText(wetted.depthM.high)}`,
      { sizeMm: SIZE.small, font: 'narrow-italic', ink: 'water' },
    ),
    lineItem(
      PLOT_MARK,
      { x: middle, y: y - 2.6 },
      { x: middle + rowM * scale, y: y - 2.6 },
      stroke('ink-2', WEIGHT.thin),
    ),
    textItem(PLOT_MARK, { x: middle + (rowM * scale) / 2, y: y - 3.4 }, lengthText(rowM), {
      sizeMm: SIZE.small,
      anchor: 'middle',
    }),
  ];
}

/** The season of one zone as a block of the calculations sheet. */
export const seasonBlock = (zone: ZoneSchedule, number: number, system: UnitSystem): Block =>
  plotBlock(`plot-season-${zone.zoneId}`, plotWords.season(number), plotWords.seasonNote, 38, (rect) =>
    seasonItems(zone, system, rect),
  );

/** The wetted section of one bed as a block of the calculations sheet. */
export const sectionBlock = (bed: DesignedBed, lengthText: (lengthM: number) => string): Block =>
  plotBlock(
    `plot-section-${bed.id}`,
    plotWords.section(bed.mark),
    plotWords.sectionNote,
    (widthMm) => sectionScale(bed, widthMm).heightMm,
    (rect) => sectionItems(bed, rect, lengthText),
  );
