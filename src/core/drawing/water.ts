import type { Design, DesignedBed } from '../design';
import {
  type Box,
  boxesTouch,
  boxOf,
  type PaperView,
  type PlanPoint,
  planToPaper,
  pointAlong,
  polylineLengthM,
  ringsOf,
  simplifyPath,
  slicePath,
} from '../geometry';
import type { Run } from '../layout';
import type { HeaderPipe, Sleeve, SupplyDesign } from '../supply';
import { asidePoints, hollowItems, onPaper, ringSteps, sleeveItems, tickSteps } from './lineTypes';
import { pathItem, polylineSteps, stroke, WEIGHT } from './pen';
import { type RowGap, runGroup } from './rowGaps';
import { symbolItems } from './symbols';
import type { DrawingItem } from './types';

/** Emitter ticks closer than this on paper run together, so they are left out, mm. */
export const LEAST_TICK_GAP_MM = 0.9;
const TICK_MM = 0.85;
/** How far a printed curve may stray from the routed one, mm: a fifth of the thinnest line. */
const STRAY_MM = 0.025;

/** Items in the order of their ids. */
export const byId = <T extends { readonly id: string }>(items: readonly T[]): readonly T[] =>
  [...items].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));

/** A bed: its edge is a plain line outside its ring, so that tubing close inside is not buried. */
export function bedItems(bed: DesignedBed, view: PaperView): readonly DrawingItem[] {
  const steps = ringSteps(ringsOf(bed.layout.outline).map((r) => onPaper(r, view)));
  const mark = { layer: 'beds', of: bed.id };
  return [
    pathItem(mark, steps, { stroke: stroke('ink', WEIGHT.bold * 2, { join: 'miter' }) }),
    pathItem(mark, steps, { fill: 'bed', evenOdd: true }),
  ];
}

/** The distance at which the two flows of a closed run meet, or its end. */
const meetingM = (run: Run): number => run.flushAtM ?? run.lengthM;

/** What is left of a path between gaps. */
function piecesBetween(
  path: readonly PlanPoint[],
  gaps: readonly RowGap[],
): readonly (readonly PlanPoint[])[] {
  const inOrder = [...gaps].sort((a, b) => a.fromM - b.fromM);
  const from = [0, ...inOrder.map((gap) => gap.toM)];
  const to = [...inOrder.map((gap) => gap.fromM), polylineLengthM(path)];
  return from.map((fromM, i) => slicePath(path, fromM, to[i]!));
}

/** One run: plain line, one tick an emitter on the left bank of the water; they change side where the flows meet. Left open at gaps. */
export function runItems(run: Run, view: PaperView, gaps: readonly RowGap[] = []): readonly DrawingItem[] {
  const mPerMm = view.scaleDenominator / 1000;
  const pieces = gaps.length === 0 ? [run.path] : piecesBetween(run.path, gaps);
  const steps = pieces.flatMap((piece) =>
    polylineSteps(onPaper(simplifyPath(piece, STRAY_MM * mPerMm), view)),
  );
  const mark = { layer: 'tubing', of: run.id, group: runGroup(run.id) };
  const items: DrawingItem[] = [
    pathItem(mark, steps, {
      stroke: stroke('water', run.emittersM.length > 0 ? WEIGHT.bold : 0.3, {
        ...(run.emittersM.length > 0 ? {} : { dashMm: [1.6, 0.7] }),
      }),
    }),
  ];
  const gapMm = run.emittersM.length > 1 ? run.lengthM / run.emittersM.length / mPerMm : 9;
  if (run.emittersM.length > 0 && gapMm >= LEAST_TICK_GAP_MM) {
    const turn = run.closed ? meetingM(run) : Number.POSITIVE_INFINITY;
    const ticks = tickSteps(
      run.path,
      gaps.length === 0
        ? run.emittersM
        : run.emittersM.filter((m) => gaps.every((gap) => m < gap.fromM || m > gap.toM)),
      (alongM) => (alongM <= turn ? TICK_MM : -TICK_MM) * mPerMm,
      view,
    );
    items.push(pathItem({ ...mark, layer: 'emitters' }, ticks, { stroke: stroke('water', WEIGHT.hair) }));
  }
  return items;
}

/** Splices, and the stub-up with its two leaves where the tubing begins. */
export function joinItems(bed: DesignedBed, view: PaperView): readonly DrawingItem[] {
  if (bed.layout.status !== 'routed') return [];
  const splices = bed.layout.joins
    .filter((join) => join.fitting === 'splice' || join.fitting === 'coupling')
    .flatMap((join) =>
      symbolItems(
        { layer: 'devices', of: bed.id },
        'splice',
        planToPaper(join, view),
        3,
        headingAt(bed, join),
      ),
    );
  return [
    ...splices,
    ...symbolItems({ layer: 'devices', of: bed.id }, 'stub-up', planToPaper(bed.layout.stubUp, view), 3.6),
  ];
}

function headingAt(bed: DesignedBed, at: PlanPoint): number {
  let best = { distance: Number.POSITIVE_INFINITY, heading: 0 };
  for (const run of bed.layout.runs) {
    for (let i = 1; i < run.path.length; i++) {
      const [a, b] = [run.path[i - 1]!, run.path[i]!];
      const distance = Math.hypot(a.x - at.x, a.y - at.y);
      if (distance < best.distance) best = { distance, heading: Math.atan2(b.y - a.y, b.x - a.x) };
    }
  }
  return best.heading;
}

/** Half-way arrows of a header, where it is long enough to carry one. */
function flowArrows(pipe: HeaderPipe, view: PaperView): readonly DrawingItem[] {
  const lengthMm = (polylineLengthM(pipe.path) * 1000) / view.scaleDenominator;
  if (lengthMm < 12 || pipe.flowM3s === 0) return [];
  const on = pointAlong(pipe.path, polylineLengthM(pipe.path) / 2);
  const at = planToPaper(on.at, view);
  const angle = on.headingRad + view.turnRad;
  const aside = { x: at.x - Math.sin(angle) * 1.6, y: at.y - Math.cos(angle) * 1.6 };
  return symbolItems({ layer: 'pipes', of: pipe.id }, 'flow', aside, 3, angle);
}

/** Every header and main with its sleeves; headers are always fed from the valve, so the arrow runs with the path. */
export function pipeItems(supply: SupplyDesign, view: PaperView): readonly DrawingItem[] {
  const zones = [...supply.zones].sort((a, b) => a.number - b.number);
  const pipes = [...byId(supply.main), ...zones.flatMap((zone) => byId(zone.pipes))];
  const sleeves: readonly Sleeve[] = byId([...supply.sleeves, ...zones.flatMap((z) => z.sleeves)]);
  const seen = new Set<string>();
  return [
    ...hollowItems(
      pipes.map((pipe) => ({
        mark: { layer: 'pipes', of: pipe.id },
        points: onPaper(pipe.path, view),
        core: pipe.role === 'main',
      })),
    ),
    ...sleeves
      .filter((s) => !seen.has(s.id) && seen.add(s.id))
      .flatMap((s) => sleeveItems({ layer: 'pipes', of: s.id }, onPaper(s.path, view))),
    ...pipes.flatMap((pipe) => flowArrows(pipe, view)),
  ];
}

/** Control wire, beside the trench it lies in. */
export function wireItems(supply: SupplyDesign, view: PaperView): readonly DrawingItem[] {
  return supply.wires.map((wire, i) =>
    pathItem(
      { layer: 'wires', of: wire.zoneId ?? 'common' },
      polylineSteps(asidePoints(onPaper(wire.path, view), 1.3 + 0.5 * (i % 3))),
      { stroke: stroke('ink-2', WEIGHT.thin, { dashMm: [2.2, 0.7, 0.4, 0.7] }) },
    ),
  );
}

/** Beds with their tubing, in the order ink covers ink; runs that keep clear of what is shown, plan metres, are left out. */
export function waterItems(design: Design, view: PaperView, shown: Box): readonly DrawingItem[] {
  const beds = byId(design.beds);
  const isShown = (run: Run): boolean => {
    const own = boxOf(run.path);
    return own !== null && boxesTouch(own, shown);
  };
  return [
    ...beds.flatMap((bed) => bedItems(bed, view)),
    ...beds.flatMap((bed) => byId(bed.layout.runs.filter(isShown)).flatMap((run) => runItems(run, view))),
  ];
}
