import type { Design } from '../design';
import {
  type Box,
  boxesTouch,
  boxHolds,
  boxOf,
  growBox,
  type PaperView,
  paperToPlan,
  planToPaper,
  uniteBoxes,
} from '../geometry';
import type { Plan } from '../plan';
import { printer, type UnitSystem } from '../units';
import { drawingWords as words } from '../words';
import type { PaperRect } from './blocks';
import { deviceItems, devicesOf } from './devices';
import { foreignItems, groundItems, standingItems, structureRings, utilityItems } from './ground';
import { pathItem, rectSteps, SIZE, stroke, textItem, WEIGHT } from './pen';
import { type RowGap, runGroup } from './rowGaps';
import { type ScaleBar, scaleBar, scaleLabel } from './scales';
import { northItems } from './symbols';
import type { DrawingItem, PathStep } from './types';
import { joinItems, pipeItems, runItems, waterItems, wireItems } from './water';

/** Height kept clear under the plan for the scale bar and the north mark. */
export const FOOT_MM = 15;

/** The ground that must be seen: beds, pipes, devices and what was measured for them; null for an empty plan. */
export function planBox(design: Design): Box | null {
  const points = (list: readonly { readonly x: number; readonly y: number }[]) => boxOf(list);
  const { plan, supply } = design;
  return uniteBoxes([
    ...design.beds.flatMap((bed) => bed.layout.outline.map((p) => boxOf(p.outer))),
    ...supply.main.map((pipe) => boxOf(pipe.path)),
    ...supply.zones.flatMap((zone) => zone.pipes.map((pipe) => boxOf(pipe.path))),
    points(devicesOf(supply).map((d) => d.at)),
    points(Object.values(plan.sources).map((s) => s.at)),
    points(Object.values(plan.valves).map((s) => s.at)),
    points(Object.values(plan.controllers).map((s) => s.at)),
    points(Object.values(plan.trees).map((t) => t.at)),
  ]);
}

const NEAR_M = 2.5;

/** Fences close to the work, as far as they run beside it: cut off at the paper's edge they would not be read. */
function nearFences(plan: Plan, box: Box): readonly (Box | null)[] {
  const around = growBox(box, NEAR_M);
  return Object.values(plan.structures)
    .filter((s) => s.kind === 'fence')
    .map((s) =>
      boxOf(
        structureRings(s)
          .flat()
          .filter((p) => boxHolds(around, p)),
      ),
    )
    .map((own) => own && { ...own, minX: Math.max(own.minX, box.minX), maxX: Math.min(own.maxX, box.maxX) });
}

/** The box of the work with the fences close to it, where the paper has room for them. */
export const withFences = (design: Design, box: Box): Box =>
  uniteBoxes([box, ...nearFences(design.plan, box)]) ?? box;

/** A view that brings the middle of a box to the middle of a room. */
export function viewOf(box: Box, room: PaperRect, scaleDenominator: number): PaperView {
  return {
    plan: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 },
    paper: { x: room.x + room.widthMm / 2, y: room.y + room.heightMm / 2 },
    scaleDenominator,
    turnRad: 0,
  };
}

/** Everything the plan view shows but its lettering, clipped to its room. */
export function planViewItems(design: Design, view: PaperView, room: PaperRect): DrawingItem {
  const { plan, supply } = design;
  return {
    kind: 'clip',
    layer: 'frame',
    steps: rectSteps(room.x, room.y, room.widthMm, room.heightMm),
    items: inWindow(room, [
      ...underlayItems(design, view),
      ...groundItems(plan, view),
      ...foreignItems(plan, view),
      ...waterItems(design, view, shownBox(room, view)),
      ...standingItems(plan, view),
      ...utilityItems(plan, view),
      ...wireItems(supply, view),
      ...pipeItems(supply, view),
      ...design.beds.flatMap((bed) => joinItems(bed, view)),
      ...deviceItems(design, view),
    ]),
  };
}

/** A drawn plan view with rows left open where marks are set into them. */
export function withGaps(
  design: Design,
  view: PaperView,
  items: readonly DrawingItem[],
  gaps: ReadonlyMap<string, readonly RowGap[]>,
): readonly DrawingItem[] {
  if (gaps.size === 0) return items;
  const runs = new Map(design.beds.flatMap((bed) => bed.layout.runs.map((run) => [run.id, run] as const)));
  const opened = (item: DrawingItem): readonly DrawingItem[] => {
    if (item.kind === 'clip') return [{ ...item, items: item.items.flatMap(opened) }];
    const run = gaps.has(item.of ?? '') ? runs.get(item.of ?? '') : undefined;
    if (!run || item.group !== runGroup(run.id)) return [item];
    return item.layer === 'tubing' ? runItems(run, view, gaps.get(run.id)) : [];
  };
  return items.flatMap(opened);
}

/** Items that may show in a window: what lies wholly outside is not printed behind its edge. */
function inWindow(window: PaperRect, items: readonly DrawingItem[]): readonly DrawingItem[] {
  return items.filter((item) => {
    if (item.kind !== 'path' && item.kind !== 'clip') return true;
    const own = boxOf(
      item.steps.flatMap((step) =>
        step[0] === 'Z' ? [] : [{ x: step[step.length - 2] as number, y: step[step.length - 1] as number }],
      ),
    );
    return own !== null && boxesTouch(own, windowBox(window));
  });
}

/** The plan under a room of the paper and the strokes round it. The view is not turned. */
export function shownBox(room: PaperRect, view: PaperView): Box {
  const { minX, minY, maxX, maxY } = windowBox(room);
  const corners = [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ].map(([x = 0, y = 0]) => paperToPlan({ x, y }, view));
  return boxOf(corners) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 };
}

const STROKES_MM = 4;

const windowBox = (window: PaperRect): Box => ({
  minX: window.x - STROKES_MM,
  minY: window.y - STROKES_MM,
  maxX: window.x + window.widthMm + STROKES_MM,
  maxY: window.y + window.heightMm + STROKES_MM,
});

/** Reference lines under the drawing. Pictures are left to the screen: a photograph under a crew's sheet hides the work. */
function underlayItems(design: Design, view: PaperView): readonly DrawingItem[] {
  return Object.values(design.plan.underlays)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .filter((u) => u.kind === 'reference')
    .map((u) => {
      const steps: PathStep[] = u.lines.flatMap((line) =>
        line.map((p, i): PathStep => {
          const q = planToPaper(p, view);
          return [i === 0 ? 'M' : 'L', q.x, q.y];
        }),
      );
      return pathItem({ layer: 'underlay', of: u.id }, steps, { stroke: stroke('rule-faint', WEIGHT.hair) });
    });
}

/** One line running up and down like rows, figures under it, and the sentence that lets a print be trusted. */
export function scaleBarItems(
  at: { readonly x: number; readonly y: number },
  bar: ScaleBar,
  scale: string,
): readonly DrawingItem[] {
  const mark = { layer: 'frame', group: 'scale-bar' };
  const step = bar.paperMm / bar.parts;
  const steps: PathStep[] = [['M', at.x, at.y + 2]];
  for (let i = 0; i < bar.parts; i++) {
    const y = i % 2 === 0 ? at.y : at.y + 2;
    steps.push(['L', at.x + i * step, y], ['L', at.x + (i + 1) * step, y]);
  }
  steps.push(['L', at.x + bar.paperMm, at.y + 2]);
  return [
    textItem(mark, { x: at.x, y: at.y - 2 }, words.scaleBar(scale, bar.paperText), { sizeMm: SIZE.note }),
    pathItem(mark, steps, { stroke: stroke('ink', WEIGHT.bold, { join: 'miter' }) }),
    ...Array.from({ length: bar.parts + 1 }, (_, i) =>
      textItem(
        mark,
        { x: at.x + i * step, y: at.y + 5.2 },
        `${Number((i * bar.partFigure).toFixed(3))}${i === bar.parts ? ` ${bar.figureUnit}` : ''}`,
        { sizeMm: SIZE.small, anchor: i === 0 ? 'start' : i === bar.parts ? 'end' : 'middle' },
      ),
    ),
  ];
}

/** What the foot of a plan view says beside its scale. */
export interface FootText {
  readonly system: UnitSystem;
  readonly bearingRad: number;
  /** Notes for which the plan view had no clear paper. */
  readonly leftOutCount: number;
}

/** Scale bar at the left of the foot strip, north mark at its right, between them what the plan could not hold. */
export function footItems(room: PaperRect, scaleDenominator: number, text: FootText): readonly DrawingItem[] {
  const mark = { layer: 'frame' };
  const bar = scaleBar(scaleDenominator, text.system, Math.min(152.4, room.widthMm - 40));
  const y = room.y + room.heightMm - FOOT_MM;
  const right = room.x + room.widthMm;
  return [
    ...scaleBarItems({ x: room.x + 6, y: y + 6.5 }, bar, scaleLabel(scaleDenominator, text.system)),
    ...(text.leftOutCount > 0
      ? [
          textItem(mark, { x: right - 20, y: y + 4.5 }, words.notOnPlan(text.leftOutCount), {
            sizeMm: SIZE.note,
            anchor: 'end',
          }),
        ]
      : []),
    ...northItems(mark, { x: right - 9, y: y + 10.5 }, 13, text.bearingRad),
  ];
}

/** Room for the ground itself: the field without its foot, and a border for lettering. */
export function groundRoom(field: PaperRect): PaperRect {
  return { x: field.x, y: field.y, widthMm: field.widthMm, heightMm: field.heightMm - FOOT_MM };
}

/** The box of a plan grown by paper millimetres, so that lettering has clear ground round it. */
export const grownBox = (box: Box, marginMm: number, scaleDenominator: number): Box =>
  growBox(box, (marginMm * scaleDenominator) / 1000);

/** The word printer of a design. */
export const printerOf = (design: Design) => printer(design.plan.display.units);
