import type { Box, PlanPoint, ScreenPoint, ScreenView } from '../../../core/geometry';
import { planToScreen } from '../../../core/geometry';
import type { Palette } from '../../look/palette';

/** Everything a painter needs to know of the moment. Paths are drawn in plan metres, letters and symbols in CSS pixels. */
export interface Brush {
  readonly context: CanvasRenderingContext2D;
  readonly palette: Palette;
  readonly view: ScreenView;
  readonly deviceRatio: number;
  /** Ground in sight. */
  readonly sight: Box;
}

/** The five line weights, CSS pixels, each about 1.4 times the last. */
export const WEIGHT_PX = { hair: 0.6, thin: 0.9, mid: 1.4, bold: 2, mass: 3 } as const;

/** Lets the next strokes be drawn in plan metres, y north. */
export function onPlan({ context, view, deviceRatio }: Brush): void {
  const scale = view.pixelsPerM * deviceRatio;
  context.setTransform(
    scale,
    0,
    0,
    -scale,
    (view.screen.x - view.plan.x * view.pixelsPerM) * deviceRatio,
    (view.screen.y + view.plan.y * view.pixelsPerM) * deviceRatio,
  );
}

/** Lets the next strokes be drawn in CSS pixels. */
export function onScreen({ context, deviceRatio }: Brush): void {
  context.setTransform(deviceRatio, 0, 0, deviceRatio, 0, 0);
}

/** A weight in CSS pixels as a width in plan metres. */
export const weightM = ({ view, palette }: Brush, px: number): number =>
  (px * palette.weightRatio) / view.pixelsPerM;
/** A length in CSS pixels in plan metres, whatever the look. */
export const pixelsM = ({ view }: Brush, px: number): number => px / view.pixelsPerM;
export const placeOnScreen = ({ view }: Brush, at: PlanPoint): ScreenPoint => planToScreen(at, view);
