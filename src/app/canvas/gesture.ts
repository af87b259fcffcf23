import { type Catch, type PlanPoint, type Ring, rectangleRing } from '../../core/geometry';
import type { Command } from '../../core/plan';
import { type CornerRef, type ItemRef, useDesk } from '../state/desk';
import { attempt, dropAttempt, edit } from '../state/edit';
import { choose, chooseCorner, chosenByCorners, cornerPlace, moveCorner } from '../state/selection';
import { catchIndexNow, REACH_PX, settlePlace } from '../state/tools';
import { useView } from '../state/view';
import { cornerAt, itemAt, itemsWithin } from '../tools/hit';

interface Target {
  readonly item: ItemRef | null;
  readonly corner: CornerRef | null;
}

interface Keys {
  readonly isSuspended: boolean;
  readonly isHeld: boolean;
}

/** A press on the sketch while no tool is out, and what dragging and letting go do from there. A value: each drag gives the next. */
export interface Gesture {
  readonly kind: 'pan' | 'box' | 'lasso' | 'corner' | 'items';
  readonly isMoved: boolean;
  readonly target: Target;
  /** Outline of the box or the lasso, to be drawn. */
  readonly ring: Ring;
  /** What a dragged corner has caught. */
  readonly caught: Catch | null;
  readonly drag: (to: PlanPoint, keys: Keys) => Gesture;
  readonly drop: () => void;
  readonly cancel: () => void;
}

const nothing = (): void => undefined;

function targetAt(at: PlanPoint): Target {
  const { history, selection } = useDesk.getState();
  const reachM = REACH_PX / useView.getState().view.pixelsPerM;
  const only = chosenByCorners(selection);
  const corner = only ? cornerAt(history.plan, only, at, reachM) : null;
  return { corner, item: itemAt(history.plan, at, reachM) };
}

const isChosen = (item: ItemRef): boolean =>
  useDesk.getState().selection.some((one) => one.map === item.map && one.id === item.id);

/** Begins a gesture: a corner of what is chosen is dragged, a chosen item is moved, else the paper moves under the hand. */
export function beginGesture(
  at: PlanPoint,
  how: { readonly isBox: boolean; readonly isLasso: boolean },
): Gesture {
  const target = targetAt(at);
  if (how.isLasso) return lasso(target, [at]);
  if (how.isBox) return box(target, at, at, false);
  if (target.corner?.part === 'corner') return dragCorner(target, target.corner, null, null);
  if (target.item && isChosen(target.item)) return dragItems(target, at, null);
  const pan: Gesture = {
    kind: 'pan',
    isMoved: false,
    target,
    ring: [],
    caught: null,
    drag: () => ({ ...pan, isMoved: true }),
    drop: nothing,
    cancel: nothing,
  };
  return pan;
}

function trying(command: Command | null): { drop: () => void; cancel: () => void } {
  return {
    drop: () => {
      if (command) edit(command);
    },
    cancel: dropAttempt,
  };
}

function dragCorner(
  target: Target,
  corner: CornerRef,
  command: Command | null,
  caught: Catch | null,
): Gesture {
  return {
    kind: 'corner',
    isMoved: command !== null,
    target,
    ring: [],
    caught,
    drag: (to, keys) => {
      chooseCorner(corner);
      // A corner never catches the lines that move with it.
      const { plan } = useDesk.getState().history;
      const place = cornerPlace(plan, corner);
      const { follows } = catchIndexNow();
      const settled = settlePlace(to, keys, ({ chain }) => place === null || !follows(chain, place));
      const next = moveCorner(corner, settled.at);
      attempt(next);
      return dragCorner(target, corner, next, settled.caught);
    },
    ...trying(command),
  };
}

function dragItems(target: Target, from: PlanPoint, command: Command | null): Gesture {
  return {
    kind: 'items',
    isMoved: command !== null,
    target,
    ring: [],
    caught: null,
    drag: (to) => {
      const items = useDesk.getState().selection;
      const next: Command = { name: 'move-items', params: { items, dx: to.x - from.x, dy: to.y - from.y } };
      attempt(next);
      return dragItems(target, from, next);
    },
    ...trying(command),
  };
}

function chooseWithin(ring: Ring): void {
  choose(itemsWithin(useDesk.getState().history.plan, ring));
}

function box(target: Target, from: PlanPoint, to: PlanPoint, isMoved: boolean): Gesture {
  const ring = rectangleRing(from, to);
  return {
    kind: 'box',
    isMoved,
    target,
    ring: isMoved ? ring : [],
    caught: null,
    drag: (next) => box(target, from, next, true),
    drop: () => chooseWithin(ring),
    cancel: nothing,
  };
}

function lasso(target: Target, trail: Ring): Gesture {
  return {
    kind: 'lasso',
    isMoved: trail.length > 1,
    target,
    ring: trail,
    caught: null,
    drag: (next) => lasso(target, [...trail, next]),
    drop: () => chooseWithin(trail),
    cancel: nothing,
  };
}
