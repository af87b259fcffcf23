import {
  distanceM,
  headingRad,
  type PlanPoint,
  type Polyline,
  polylineLengthM,
  ringAreaM2,
  turnRad,
} from '../../core/geometry';
import { NO_DRAFT, type Tool } from './tool';

export interface MeasureState {
  readonly name: 'waiting' | 'measuring';
  readonly points: readonly PlanPoint[];
  readonly pointer: PlanPoint | null;
  /** Ended by Return: the figures stay until the next place. */
  readonly isEnded: boolean;
}

const EMPTY: MeasureState = { name: 'waiting', points: [], pointer: null, isEnded: false };

/** What has been measured so far. */
export interface Measured {
  /** Along all the places. */
  readonly lengthM: number;
  /** Of the last stretch alone. */
  readonly lastM: number;
  /** Bearing of the last stretch, clockwise from north on the plan, 0 to a full turn. */
  readonly bearingRad: number;
  /** Between the last two stretches, 0 to half a turn; null with only one. */
  readonly angleRad: number | null;
  /** Inside the places, were they closed; null with fewer than three. */
  readonly areaM2: number | null;
}

/** The places measured through, with the one under the hair. */
export function measuredPath({ points, pointer, isEnded }: MeasureState): Polyline {
  const last = points.at(-1);
  return pointer && last && !isEnded && distanceM(last, pointer) > 1e-6 ? [...points, pointer] : points;
}

/** Figures of a measured path; null with fewer than two places. */
export function measured(path: Polyline): Measured | null {
  const [before, from, to] = [path.at(-3), path.at(-2), path.at(-1)];
  if (!from || !to) return null;
  const fullTurn = 2 * Math.PI;
  return {
    lengthM: polylineLengthM(path),
    lastM: distanceM(from, to),
    bearingRad: (((Math.PI / 2 - headingRad(from, to)) % fullTurn) + fullTurn) % fullTurn,
    angleRad: before ? Math.PI - Math.abs(turnRad(before, from, to)) : null,
    areaM2: path.length > 2 ? ringAreaM2(path) : null,
  };
}

/** Measures through any number of places: length, angle at the last corner, and the ground they enclose. Changes nothing. */
export const measureTool: Tool<MeasureState> = {
  begin: () => EMPTY,
  take(state, event) {
    switch (event.kind) {
      case 'point':
        return { state: { ...state, pointer: event.at } };
      case 'place': {
        const before = state.isEnded ? [] : state.points;
        const last = before.at(-1);
        if (last && distanceM(last, event.at) < 1e-6) return { state };
        return {
          state: { name: 'measuring', points: [...before, event.at], pointer: event.at, isEnded: false },
        };
      }
      case 'finish':
        return { state: { ...state, isEnded: state.points.length > 1 } };
      case 'back':
        if (state.points.length === 0) return { state, isOver: true };
        if (state.isEnded) return { state: EMPTY };
        return { state: { ...state, points: state.points.slice(0, -1) } };
      default:
        return { state };
    }
  },
  origin: (state) => (state.isEnded ? null : (state.points.at(-1) ?? null)),
  lengthMeans: () => 'way',
  draft(state) {
    const path = measuredPath(state);
    if (path.length === 0) return NO_DRAFT;
    const [first, last] = [path[0], path.at(-1)];
    return {
      lines: [
        { points: path, isClosed: false, style: state.isEnded ? 'sure' : 'open' },
        ...(path.length > 2 && first && last
          ? [{ points: [last, first], isClosed: false, style: 'closing' as const }]
          : []),
      ],
      corners: state.points,
      measures: path
        .slice(1)
        .map((to, index) => ({ from: path[index] ?? to, to, isTyped: index === path.length - 2 })),
    };
  },
  prompt(state) {
    if (state.points.length === 0 || state.isEnded) return 'Place where to measure from.';
    if (state.points.length === 1) return 'Place where to measure to.';
    return 'Place the next corner for an angle and an area; Return ends.';
  },
};
