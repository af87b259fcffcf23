import type { MultiPolygon, PlanPoint, Polyline } from '../../geometry';

/** How well ground is to be watered before tubing and bends count for more than what is still dry. */
export interface WateringGoal {
  /** Share of the ground within 0.55 of the row spacing from tubing. */
  readonly coveredRatio: number;
  /** The widest gap, in row spacings. */
  readonly gapRatio: number;
}

/**
 * How dry ground is mended: rows' ends dented towards it first, which leaves rows straight; runs pulled over alone, which bends tubing
 * less tightly; or not at all.
 */
export type Mending = 'dented' | 'pulled' | 'bare';

/** What the closed-loop router is asked. All lengths in metres, angles in radians anticlockwise from east. */
export interface LoopRequest {
  /** Ground to be watered (see `usableArea`). */
  readonly usable: MultiPolygon;
  /** Ground tubing may lie on; left out, the usable ground. */
  readonly routable?: MultiPolygon;
  readonly rowSpacingM: number;
  /** How far rows may exceed the spacing to save a pair of rows, 0.15 = 15 %. */
  readonly rowStretchRatio?: number;
  /** Spacings are rounded down to a multiple of this where rows are stretched, so that one jig serves the bed; 0: not. */
  readonly jigStepM?: number;
  readonly directionRad: number | null;
  /** Least distance between two runs; see `leastSeparationM`. */
  readonly minSeparationM: number;
  readonly bendRadiusM: number;
  readonly stubUp: PlanPoint | null;
  /** Steepness and compass bearing of downhill; rows then follow the contour and widen downhill. */
  readonly slope: { readonly ratio: number; readonly towardRad: number } | null;
  /** Longest loop allowed; longer ones are split into about equal loops. */
  readonly maxLoopLengthM: number | null;
  /**
   * How hard to look: only the remembered way where it is still there, its defects not looked for; the most promising way as it
   * falls out; the same mended; or the best of several mended.
   */
  readonly quality: 'following' | 'preview' | 'quick' | 'finished';
  /** How dry ground is mended where the quality asks for it: the ways to be tried in turn until a route holds; `dented` alone where left out. */
  readonly mending?: readonly Mending[];
  /** Until the ground is watered so well it is mended, and what stays drier costs. */
  readonly goal: WateringGoal;
  /** What another route already costs: one that even mended would be dearer is shown as it falls out, not mended. */
  readonly beatM?: number;
  /** Direction and key of the last route, kept while it stays about as good. */
  readonly memory: { readonly directionRad: number; readonly key: string } | null;
  /** What a turn costs, in metres of tubing. */
  readonly turnWeightM?: number;
  /** Work allowed before the router gives up, in candidate routes times thousand points; see `StepBudget`. */
  readonly stepBudget?: number;
  /** Ask for the layers of each stage, to be drawn. */
  readonly trace?: boolean;
}

/** A named picture of a stage: rings and paths in plan metres. */
export interface TraceLayer {
  readonly name: string;
  readonly rings: readonly Polyline[];
}

/** What is not as wanted about a route. */
export interface LoopDefect {
  readonly kind: 'dry' | 'close' | 'tight-bend' | 'unreached' | 'unsplit';
  readonly at: PlanPoint;
  /** Distance to tubing (dry, unreached), between runs (close), bend radius (tight bend), loop length (unsplit), metres. */
  readonly valueM: number;
  readonly areaM2?: number;
}

/** One closed piece of tubing. */
export interface RoutedLoop {
  /** First point repeated at the end; anticlockwise; begins at the point nearest to the stub-up. */
  readonly path: Polyline;
  readonly lengthM: number;
  readonly bendRadiusM: number;
  /** The ground it serves, by the index of the routable part it lies in. */
  readonly part: number;
}

/** The route of a bed's ground, or why there is none. */
export interface LoopRoute {
  readonly loops: readonly RoutedLoop[];
  readonly directionRad: number;
  /** Widest distance between rows as laid. */
  readonly rowSpacingM: number;
  readonly rows: number;
  readonly turns: number;
  /** Its cost in metres of tubing, as the router weighs it: comparable between routes of the same ground. */
  readonly costM: number;
  readonly key: string;
  /** What is not as wanted about it, measured anew each time it is asked for; not of one that only follows the last. */
  readonly defects: () => readonly LoopDefect[];
  /** Parts of the ground wide enough for a loop. */
  readonly reachableParts: number;
  readonly refused?: 'layout.too-narrow' | 'layout.too-complex';
  readonly trace?: readonly TraceLayer[];
}

/** Least distance between two runs: 0.6 of the spacing, or a U-turn of the tightest bend, whichever is more (ours, stated). */
export function leastSeparationM(rowSpacingM: number, bendRadiusM: number): number {
  return Math.max(0.6 * rowSpacingM, 2 * bendRadiusM);
}
