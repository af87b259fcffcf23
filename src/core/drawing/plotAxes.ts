import { scaleLinear } from 'd3-scale';
import {
  HEAD_M_PER_KPA,
  HEAD_M_PER_PSI,
  M3S_PER_GPM,
  METRES_PER_FOOT,
  METRES_PER_INCH,
  type UnitSystem,
} from '../units';
import type { Block, PaperRect } from './blocks';
import { lineItem, type Mark, SIZE, stroke, textItem, WEIGHT } from './pen';
import { wrapText } from './text';
import type { DrawingItem } from './types';

/** A unit an axis counts in: its name, and how much SI one of it is. */
export interface AxisUnit {
  readonly name: string;
  readonly si: number;
}

/** Units of the plots in each system. */
export const PLOT_UNITS: Readonly<
  Record<UnitSystem, Readonly<Record<'water' | 'flow' | 'head' | 'length', AxisUnit>>>
> = {
  us: {
    water: { name: 'in', si: METRES_PER_INCH },
    flow: { name: 'gpm', si: M3S_PER_GPM },
    head: { name: 'psi', si: HEAD_M_PER_PSI },
    length: { name: 'ft', si: METRES_PER_FOOT },
  },
  metric: {
    water: { name: 'mm', si: 0.001 },
    flow: { name: 'L/min', si: 1 / 60_000 },
    head: { name: 'kPa', si: HEAD_M_PER_KPA },
    length: { name: 'm', si: 1 },
  },
};

/** Layer and group of every mark of a plot. */
export const PLOT_MARK: Mark = { layer: 'tables' };

/** A field with axes: where an SI pair lies on paper. */
export interface PlotField {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly frame: PaperRect;
  readonly items: readonly DrawingItem[];
}

/** What an axis spans and says. A zero span is widened so that it can be drawn. */
export interface AxisInput {
  readonly from: number;
  readonly to: number;
  readonly unit: AxisUnit;
  readonly label: string;
}

const LEFT_MM = 11;
const BOTTOM_MM = 8;

function scaleOf(axis: AxisInput, rangeMm: readonly [number, number], count: number) {
  const from = axis.from / axis.unit.si;
  const to = axis.to / axis.unit.si;
  const scale = scaleLinear()
    .domain([from, to > from ? to : from + 1])
    .range([...rangeMm])
    .nice(count);
  return { at: (si: number): number => scale(si / axis.unit.si), ticks: scale.ticks(count), of: scale };
}

/** Axes with faint rules, figures and their units. Water figures lean; lengths and months stand; `isCounted` false leaves the figures out. */
export function plotField(
  rect: PaperRect,
  across: AxisInput & { readonly isWater: boolean; readonly isCounted?: boolean },
  up: AxisInput,
): PlotField {
  const frame = {
    x: rect.x + LEFT_MM,
    y: rect.y + 2,
    widthMm: rect.widthMm - LEFT_MM - 3,
    heightMm: rect.heightMm - BOTTOM_MM - 2,
  };
  const bottom = frame.y + frame.heightMm;
  const horizontal = scaleOf(across, [frame.x, frame.x + frame.widthMm], 6);
  const vertical = scaleOf(up, [bottom, frame.y], 4);
  const faint = stroke('rule-faint', WEIGHT.hair);
  const water = { font: 'narrow-italic', ink: 'water', sizeMm: SIZE.small } as const;
  const ground = { font: 'narrow', ink: 'ink', sizeMm: SIZE.small } as const;
  const items: DrawingItem[] = [];
  for (const tick of vertical.ticks) {
    const y = vertical.of(tick);
    items.push(lineItem(PLOT_MARK, { x: frame.x, y }, { x: frame.x + frame.widthMm, y }, faint));
    items.push(
      textItem(PLOT_MARK, { x: frame.x - 1, y: y + 0.7 }, String(tick), { ...water, anchor: 'end' }),
    );
  }
  for (const tick of across.isCounted === false ? [] : horizontal.ticks) {
    const x = horizontal.of(tick);
    items.push(lineItem(PLOT_MARK, { x, y: bottom }, { x, y: bottom + 0.8 }, stroke('ink', WEIGHT.thin)));
    items.push(
      textItem(PLOT_MARK, { x, y: bottom + 3.1 }, String(tick), {
        ...(across.isWater ? water : ground),
        anchor: 'middle',
      }),
    );
  }
  items.push(
    lineItem(
      PLOT_MARK,
      { x: frame.x, y: bottom },
      { x: frame.x + frame.widthMm, y: bottom },
      stroke('ink', WEIGHT.mid),
    ),
    textItem(PLOT_MARK, { x: frame.x + frame.widthMm, y: bottom + 6.2 }, across.label, {
      ...(across.isWater ? water : ground),
      anchor: 'end',
    }),
    textItem(PLOT_MARK, { x: frame.x, y: bottom + 6.2 }, up.label, water),
  );
  return { x: horizontal.at, y: vertical.at, frame, items };
}

const NOTE_LINE_MM = 2.9;
const NOTE_GAP_MM = 0.7;

/** A plot as a block of a page: one unbreakable drawing under its title, and a note below it. The height, mm, may follow the width. */
export function plotBlock(
  key: string,
  title: string,
  note: string,
  height: number | ((widthMm: number) => number),
  draw: (rect: PaperRect) => readonly DrawingItem[],
): Block {
  return {
    key,
    title,
    head: () => [],
    parts: (widthMm) => {
      const heightMm = typeof height === 'number' ? height : height(widthMm);
      const lines = wrapText(note, 'narrow', SIZE.small, widthMm);
      return [
        {
          heightMm: heightMm + NOTE_GAP_MM + lines.length * NOTE_LINE_MM,
          draw: (x, y) => [
            ...draw({ x, y, widthMm, heightMm }),
            ...lines.map((line, i) =>
              textItem(PLOT_MARK, { x, y: y + heightMm + 2.2 + i * NOTE_LINE_MM }, line, {
                sizeMm: SIZE.small,
                ink: 'ink-2',
              }),
            ),
          ],
        },
      ];
    },
  };
}
