import type { PlanPoint, Polyline } from '../../core/geometry';
import type { Bed, Command, ItemMap, Plan } from '../../core/plan';

/** What a hand, a key or a typed entry says to the tool under way. Places are in plan metres and already caught. */
export type ToolEvent =
  | { readonly kind: 'point'; readonly at: PlanPoint }
  | { readonly kind: 'place'; readonly at: PlanPoint }
  | { readonly kind: 'size'; readonly eastM: number; readonly northM: number }
  | { readonly kind: 'length'; readonly lengthM: number }
  | { readonly kind: 'trail'; readonly points: Polyline }
  | { readonly kind: 'edge'; readonly edge: EdgeStyle }
  | { readonly kind: 'back' }
  | { readonly kind: 'finish' };

/** How the next edge of an outline is drawn. */
export type EdgeStyle = 'straight' | 'arc' | 'freehand';

/** Sizes that a tool takes from the figures page, metres. */
export interface DrawingSizes {
  readonly walkWidthM: number;
  readonly trunkRadiusM: number;
  readonly canopyRadiusM: number;
  readonly rootBallRadiusM: number;
  readonly obstacleRadiusM: number;
  readonly lineDepthM: number;
  readonly spotElevationM: number;
  readonly noteText: string;
  /** How much tubing to either side gives way when it is pulled. */
  readonly giveM: number;
}

export interface ToolContext {
  readonly plan: Plan;
  readonly sizes: DrawingSizes;
  readonly selection: readonly { readonly map: ItemMap; readonly id: string }[];
  /** How far a press may miss, in plan metres. */
  readonly reachM: number;
  /** Tubing of every bed as it lies now. */
  readonly routes: () => readonly {
    readonly bedId: string;
    readonly runs: NonNullable<Bed['lockedRoute']>;
  }[];
  /** An id that nothing on the plan has yet. */
  readonly newId: (kind: string) => string;
}

/** A line of the drawing under way. `sure` lines are placed, `open` ones still follow the pointer. */
export interface DraftLine {
  readonly points: Polyline;
  readonly isClosed: boolean;
  readonly style: 'sure' | 'open' | 'closing';
}

/** What a tool shows of itself before anything is kept. */
export interface Draft {
  readonly lines: readonly DraftLine[];
  readonly corners: readonly PlanPoint[];
  /** Lengths written on the lines being drawn. */
  readonly measures: readonly {
    readonly from: PlanPoint;
    readonly to: PlanPoint;
    readonly isTyped: boolean;
  }[];
}

export const NO_DRAFT: Draft = { lines: [], corners: [], measures: [] };

/** Why a tool could not do what it was asked, in a sentence for the rule. */
export interface ToolRefusal {
  readonly refusal: string;
}

/** What comes of an event: the next state, and perhaps an edit. `isDone` begins the tool afresh. */
export interface ToolStep<S> {
  readonly state: S;
  readonly command?: Command;
  readonly refusal?: string;
  readonly isDone?: boolean;
  /** The tool has nothing more to do: back to choosing. */
  readonly isOver?: boolean;
}

/** A tool is a small state machine over plain data: same state and event, same step. */
export interface Tool<S> {
  readonly begin: (context: ToolContext) => S;
  readonly take: (state: S, event: ToolEvent, context: ToolContext) => ToolStep<S>;
  /** What would be kept if the hair were placed where it is: shown and designed, not kept. */
  readonly trial?: (state: S, context: ToolContext) => Command | null;
  /** Where a typed length starts; null where the next entry is a place of its own. */
  readonly origin: (state: S) => PlanPoint | null;
  /** What a bare length means now: the way along the pointer, or a size of its own. */
  readonly lengthMeans: (state: S) => 'way' | 'size';
  readonly draft: (state: S, context: ToolContext) => Draft;
  /** One sentence on the rule: what to do next. */
  readonly prompt: (state: S) => string;
}
