import { create } from 'zustand';
import {
  type Box,
  type PlanPoint,
  planToScreen,
  type ScreenPoint,
  type ScreenView,
  screenToPlan,
} from '../../core/geometry';

/** What the sketch shows now, and how large the sketch is in CSS pixels. */
export interface ViewState {
  readonly view: ScreenView;
  readonly widthPx: number;
  readonly heightPx: number;
}

export const MIN_PIXELS_PER_M = 0.2;
/** Near enough that one emitter is as wide as a thumb. */
export const MAX_PIXELS_PER_M = 4000;
const DATUM: PlanPoint = { x: 0, y: 0 };

export const useView = create<ViewState>(() => ({
  view: { plan: DATUM, screen: { x: 200, y: 500 }, pixelsPerM: 30 },
  widthPx: 800,
  heightPx: 600,
}));

const within = (pixelsPerM: number): number =>
  Math.min(MAX_PIXELS_PER_M, Math.max(MIN_PIXELS_PER_M, pixelsPerM));

/** Zooms about a place on the screen, which stays over the same ground. */
export function zoomAbout(at: ScreenPoint, ratio: number): void {
  const { view } = useView.getState();
  const pixelsPerM = within(view.pixelsPerM * ratio);
  const held = screenToPlan(at, view);
  const screen = { x: at.x - held.x * pixelsPerM, y: at.y + held.y * pixelsPerM };
  useView.setState({ view: { plan: DATUM, screen, pixelsPerM } });
}

export function zoomAboutMiddle(ratio: number): void {
  const { widthPx, heightPx } = useView.getState();
  zoomAbout({ x: widthPx / 2, y: heightPx / 2 }, ratio);
}

export function panBy(dxPx: number, dyPx: number): void {
  const { view } = useView.getState();
  useView.setState({
    view: { ...view, screen: { x: view.screen.x + dxPx, y: view.screen.y + dyPx } },
  });
}

const MARGIN_PX = 64;
/** What the legend takes of the lower right corner, its own margin in. */
const LEGEND_PX = { width: 330, height: 104 };

/** The view that fits a box of the plan into the upper left part of the sketch, no nearer than `nearest`. */
function viewOfBox(box: Box, widthPx: number, heightPx: number, nearest: number): ScreenView {
  const wideM = Math.max(box.maxX - box.minX, 0.01);
  const highM = Math.max(box.maxY - box.minY, 0.01);
  const fit = Math.min((widthPx - 2 * MARGIN_PX) / wideM, (heightPx - 2 * MARGIN_PX) / highM);
  const pixelsPerM = within(Math.min(fit, nearest));
  const screen = {
    x: widthPx / 2 - ((box.minX + box.maxX) / 2) * pixelsPerM,
    y: heightPx / 2 + ((box.minY + box.maxY) / 2) * pixelsPerM,
  };
  return { plan: DATUM, screen, pixelsPerM };
}

/** Shows a box of the plan with a margin, no nearer than `nearest`, and clear of the corner where the legend stands. */
export function showBox(box: Box, nearest = 400): void {
  const { widthPx, heightPx } = useView.getState();
  const plain = viewOfBox(box, widthPx, heightPx, nearest);
  const corner = planToScreen({ x: box.maxX, y: box.minY }, plain);
  const isClear = corner.x <= widthPx - LEGEND_PX.width || corner.y <= heightPx - LEGEND_PX.height;
  // Up or to the left, whichever keeps the plan the larger.
  const above = viewOfBox(box, widthPx, heightPx - LEGEND_PX.height + MARGIN_PX, nearest);
  const beside = viewOfBox(box, widthPx - LEGEND_PX.width + MARGIN_PX, heightPx, nearest);
  const clear = above.pixelsPerM >= beside.pixelsPerM ? above : beside;
  useView.setState({ view: isClear ? plain : clear });
}

/** The ground in sight, with a margin in pixels. */
export function boxInSight({ view, widthPx, heightPx }: ViewState, marginPx = 0): Box {
  const low = screenToPlan({ x: -marginPx, y: heightPx + marginPx }, view);
  const high = screenToPlan({ x: widthPx + marginPx, y: -marginPx }, view);
  return { minX: low.x, minY: low.y, maxX: high.x, maxY: high.y };
}

/** Moves the view just enough that a place is comfortably inside the sketch. */
export function keepInSight(at: PlanPoint): void {
  const { view, widthPx, heightPx } = useView.getState();
  const seen = planToScreen(at, view);
  const margin = 60;
  const dx = Math.max(margin - seen.x, 0) - Math.max(seen.x - (widthPx - margin), 0);
  const dy = Math.max(margin - seen.y, 0) - Math.max(seen.y - (heightPx - margin), 0);
  if (dx !== 0 || dy !== 0) panBy(dx, dy);
}
