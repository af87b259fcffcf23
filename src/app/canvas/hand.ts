import { distanceM, type PlanPoint, type ScreenPoint, screenToPlan } from '../../core/geometry';
import { insertCorner } from '../state/corners';
import { useDesk } from '../state/desk';
import { choose, chooseAlso, chooseCorner } from '../state/selection';
import { drawTrail, pointAt, tell, useTool } from '../state/tools';
import { panBy, useView, zoomAbout } from '../state/view';
import { beginGesture, type Gesture } from './gesture';
import { useGesture } from './gestureState';

/** A press that moves less than this is a click. */
const CLICK_PX = 4;
/** Notches of a wheel to a doubling of the scale. */
const ZOOM_PER_PX = 1.0016;
const PIXELS_PER_LINE = 18;

export interface Hand {
  press(event: PointerEvent): void;
  move(event: PointerEvent): void;
  release(event: PointerEvent): void;
  abandon(): void;
  leave(): void;
  doublePress(event: MouseEvent): void;
  wheel(event: WheelEvent): void;
}

/** Turns the pointer's events into pans, gestures of choosing, and events for the tool under way. */
export function createHand(element: HTMLElement): Hand {
  let pressed: { readonly at: ScreenPoint; readonly button: number } | null = null;
  let gesture: Gesture | null = null;
  let lastAt: ScreenPoint = { x: 0, y: 0 };
  let trail: PlanPoint[] = [];

  const placeOf = (event: MouseEvent): ScreenPoint => {
    const frame = element.getBoundingClientRect();
    return { x: event.clientX - frame.left, y: event.clientY - frame.top };
  };
  const onPlan = (at: ScreenPoint): PlanPoint => screenToPlan(at, useView.getState().view);
  const keys = (event: MouseEvent) => ({ isSuspended: event.altKey, isHeld: event.shiftKey });
  const isFreehand = (): boolean =>
    (useTool.getState().state as { readonly edge?: string } | null)?.edge === 'freehand';

  const setGesture = (next: Gesture | null): void => {
    gesture = next;
    useGesture.setState({ gesture: next });
  };

  return {
    press(event) {
      if (event.target instanceof Element && event.target.closest('.slip, .legend')) return;
      const at = placeOf(event);
      pressed = { at, button: event.button };
      lastAt = at;
      element.setPointerCapture(event.pointerId);
      element.focus({ preventScroll: true });
      if (event.button !== 0) {
        event.preventDefault();
        return;
      }
      if (useTool.getState().key !== null) {
        trail = [onPlan(at)];
        return;
      }
      setGesture(beginGesture(onPlan(at), { isBox: event.shiftKey, isLasso: event.altKey }));
    },

    move(event) {
      const at = placeOf(event);
      const isPanning = pressed !== null && (pressed.button !== 0 || gesture?.kind === 'pan');
      if (isPanning) {
        panBy(at.x - lastAt.x, at.y - lastAt.y);
        lastAt = at;
        return;
      }
      lastAt = at;
      pointAt(onPlan(at), keys(event));
      if (!pressed) return;
      if (useTool.getState().key !== null) {
        if (isFreehand()) trail.push(onPlan(at));
        return;
      }
      const isMoved = Math.hypot(at.x - pressed.at.x, at.y - pressed.at.y) >= CLICK_PX;
      if (gesture && (isMoved || gesture.isMoved)) setGesture(gesture.drag(onPlan(at), keys(event)));
    },

    release(event) {
      const at = placeOf(event);
      const began = pressed;
      pressed = null;
      if (began?.button !== 0) return;
      if (useTool.getState().key !== null) {
        const isDragged = Math.hypot(at.x - began.at.x, at.y - began.at.y) >= CLICK_PX;
        if (isFreehand() && trail.length > 4) drawTrail(trail);
        else {
          const { pointer } = useTool.getState();
          pointAt(onPlan(at), keys(event));
          const settled = useTool.getState().pointer ?? pointer;
          if (settled && (!isDragged || distanceM(settled, onPlan(began.at)) >= 0))
            tell({ kind: 'place', at: settled });
        }
        trail = [];
        return;
      }
      const done = gesture;
      setGesture(null);
      if (!done) return;
      if (!done.isMoved) {
        click(onPlan(at), event);
        return;
      }
      done.drop();
    },

    abandon() {
      gesture?.cancel();
      setGesture(null);
      pressed = null;
      trail = [];
    },

    leave() {
      if (!pressed) useTool.setState({ pointer: null, caught: null });
    },

    doublePress(event) {
      if (useTool.getState().key !== null) {
        tell({ kind: 'finish' });
        return;
      }
      const { corner } = useDesk.getState();
      if (corner?.part !== 'edge') return;
      insertCorner(corner, onPlan(placeOf(event)));
    },

    wheel(event) {
      event.preventDefault();
      const unit = event.deltaMode === 1 ? PIXELS_PER_LINE : 1;
      if (event.ctrlKey || event.metaKey)
        zoomAbout(placeOf(event), ZOOM_PER_PX ** (-event.deltaY * unit * 2));
      else if (event.shiftKey && event.deltaX === 0) panBy(-event.deltaY * unit, 0);
      else panBy(-event.deltaX * unit, -event.deltaY * unit);
    },
  };

  function click(at: PlanPoint, event: MouseEvent): void {
    const hit = beginGesture(at, { isBox: false, isLasso: false }).target;
    if (hit.corner) {
      chooseCorner(hit.corner);
      return;
    }
    if (hit.item && event.shiftKey) chooseAlso(hit.item);
    else choose(hit.item ? [hit.item] : []);
  }
}
