import { arcPoints, distanceM, type PlanPoint, sagittaThrough, smoothTrail } from '../../core/geometry';
import type { Command } from '../../core/plan';
import {
  type Draft,
  type DraftLine,
  type EdgeStyle,
  NO_DRAFT,
  type Tool,
  type ToolContext,
  type ToolStep,
} from './tool';

/** A corner placed, with the arc height of the edge that leaves it. */
export interface TracedCorner {
  readonly at: PlanPoint;
  readonly sagittaM: number;
}

export interface OutlineState {
  /** `bending`: the end of an arc is placed and its height follows the pointer. */
  readonly name: 'waiting' | 'tracing' | 'bending';
  readonly corners: readonly TracedCorner[];
  readonly edge: EdgeStyle;
  readonly pointer: PlanPoint | null;
  readonly arcEnd: PlanPoint | null;
}

const HAND_TOLERANCE_M = 0.08;
const EMPTY: OutlineState = { name: 'waiting', corners: [], edge: 'straight', pointer: null, arcEnd: null };

const last = (state: OutlineState): TracedCorner | null => state.corners.at(-1) ?? null;

/** Gives the last corner's edge its arc and adds the corner it leads to. */
function withEdge(state: OutlineState, at: PlanPoint, sagittaM: number): OutlineState {
  const before = last(state);
  const kept = before ? [...state.corners.slice(0, -1), { ...before, sagittaM }] : [];
  return { ...state, name: 'tracing', corners: [...kept, { at, sagittaM: 0 }], arcEnd: null, pointer: at };
}

/** Traces a closed outline corner by corner, its edges straight, arcs, or drawn by hand and smoothed. */
export function outlineTool(
  noun: string,
  build: (corners: readonly TracedCorner[], context: ToolContext) => Command,
): Tool<OutlineState> {
  const close = (state: OutlineState, context: ToolContext): ToolStep<OutlineState> =>
    state.corners.length < 3
      ? { state }
      : { state: { ...EMPTY, edge: state.edge }, command: build(state.corners, context), isDone: true };

  const place = (state: OutlineState, at: PlanPoint, context: ToolContext): ToolStep<OutlineState> => {
    if (state.name === 'bending' && state.arcEnd) {
      const from = last(state);
      const sagittaM = from ? sagittaThrough(from.at, state.arcEnd, at) : 0;
      const isClosing = state.corners[0] !== undefined && distanceM(state.arcEnd, state.corners[0].at) < 1e-6;
      const bent = withEdge(state, state.arcEnd, sagittaM);
      return { state: isClosing ? { ...bent, corners: bent.corners.slice(0, -1) } : bent };
    }
    const first = state.corners[0];
    const from = last(state);
    const closes =
      first !== undefined && state.corners.length > 2 && distanceM(first.at, at) <= context.reachM;
    if (closes && state.edge !== 'arc') return close(state, context);
    if (from && distanceM(from.at, at) < 1e-6) return { state };
    if (state.edge === 'arc' && from) {
      return { state: { ...state, name: 'bending', arcEnd: closes ? first.at : at, pointer: at } };
    }
    return { state: withEdge(state, at, 0) };
  };

  const stepBack = (state: OutlineState): ToolStep<OutlineState> => {
    if (state.name === 'bending') return { state: { ...state, name: 'tracing', arcEnd: null } };
    if (state.corners.length === 0) return { state, isOver: true };
    const corners = state.corners.slice(0, -1);
    return { state: { ...state, name: corners.length === 0 ? 'waiting' : 'tracing', corners } };
  };

  return {
    begin: () => EMPTY,
    take(state, event, context) {
      switch (event.kind) {
        case 'point':
          return { state: { ...state, pointer: event.at } };
        case 'place':
          return place(state, event.at, context);
        case 'length': {
          if (state.name !== 'bending' || !state.arcEnd) return { state };
          return { state: withEdge(state, state.arcEnd, event.lengthM) };
        }
        case 'trail': {
          const traced = smoothTrail(event.points, HAND_TOLERANCE_M).map((at) => ({ at, sagittaM: 0 }));
          return { state: { ...state, name: 'tracing', corners: [...state.corners, ...traced] } };
        }
        case 'edge':
          return { state: { ...state, edge: event.edge, arcEnd: null } };
        case 'back':
          return stepBack(state);
        case 'finish':
          return close(state, context);
        default:
          return { state };
      }
    },
    origin: (state) => last(state)?.at ?? null,
    lengthMeans: (state) => (state.name === 'bending' ? 'size' : 'way'),
    draft: outlineDraft,
    prompt: (state) => outlinePrompt(state, noun),
  };
}

function outlineDraft(state: OutlineState): Draft {
  const first = state.corners[0];
  const from = last(state);
  if (!first || !from) return NO_DRAFT;
  const placed = state.corners.slice(1).flatMap((corner, index) => {
    const before = state.corners[index];
    return before ? arcPoints(before.at, corner.at, before.sagittaM) : [];
  });
  const lines: DraftLine[] = [{ points: [first.at, ...placed], isClosed: false, style: 'sure' }];
  const { pointer, arcEnd } = state;
  const end = arcEnd ?? pointer;
  if (pointer && end) {
    const sagittaM = arcEnd ? sagittaThrough(from.at, arcEnd, pointer) : 0;
    lines.push({ points: arcPoints(from.at, end, sagittaM), isClosed: false, style: 'open' });
    if (state.corners.length > 1) lines.push({ points: [end, first.at], isClosed: false, style: 'closing' });
  }
  const measures = end ? [{ from: from.at, to: end, isTyped: true }] : [];
  return { lines, corners: state.corners.map((corner) => corner.at), measures };
}

function outlinePrompt(state: OutlineState, noun: string): string {
  if (state.name === 'waiting') return `Place the first corner of the ${noun}.`;
  if (state.name === 'bending')
    return 'Place a point the arc runs through, or write its height over the chord.';
  if (state.edge === 'freehand') return 'Draw the edge by hand, then close the outline.';
  if (state.corners.length < 3) return 'Place the next corner, or write a length.';
  return 'Place the next corner, or close at the first.';
}
