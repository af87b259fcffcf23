import { cosOf, sinOf } from './steady';
import type { PaperPoint, PlanPoint, ScreenPoint } from './types';

const MM_PER_M = 1000;

/** How a plan lies on paper: `plan` comes to `paper`, at 1 : `scaleDenominator`, turned anticlockwise by `turnRad`. */
export interface PaperView {
  readonly plan: PlanPoint;
  readonly paper: PaperPoint;
  readonly scaleDenominator: number;
  readonly turnRad: number;
}

/** How a plan lies on screen: `plan` comes to `screen`, north up. */
export interface ScreenView {
  readonly plan: PlanPoint;
  readonly screen: ScreenPoint;
  readonly pixelsPerM: number;
}

/** Plan metres to paper millimetres. */
export function planToPaper(point: PlanPoint, view: PaperView): PaperPoint {
  const mmPerM = MM_PER_M / view.scaleDenominator;
  const east = point.x - view.plan.x;
  const north = point.y - view.plan.y;
  const cos = cosOf(view.turnRad);
  const sin = sinOf(view.turnRad);
  return {
    x: view.paper.x + (east * cos - north * sin) * mmPerM,
    y: view.paper.y - (east * sin + north * cos) * mmPerM,
  };
}

/** Paper millimetres back to plan metres. */
export function paperToPlan(point: PaperPoint, view: PaperView): PlanPoint {
  const mPerMm = view.scaleDenominator / MM_PER_M;
  const right = (point.x - view.paper.x) * mPerMm;
  const up = (view.paper.y - point.y) * mPerMm;
  const cos = cosOf(view.turnRad);
  const sin = sinOf(view.turnRad);
  return { x: view.plan.x + right * cos + up * sin, y: view.plan.y - right * sin + up * cos };
}

/** Plan metres to screen pixels. */
export function planToScreen(point: PlanPoint, view: ScreenView): ScreenPoint {
  return {
    x: view.screen.x + (point.x - view.plan.x) * view.pixelsPerM,
    y: view.screen.y - (point.y - view.plan.y) * view.pixelsPerM,
  };
}

/** Screen pixels back to plan metres. */
export function screenToPlan(point: ScreenPoint, view: ScreenView): PlanPoint {
  return {
    x: view.plan.x + (point.x - view.screen.x) / view.pixelsPerM,
    y: view.plan.y - (point.y - view.screen.y) / view.pixelsPerM,
  };
}
