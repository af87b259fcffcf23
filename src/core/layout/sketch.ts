import type { PlanPoint, Polyline } from '../geometry';
import type { JoinFitting, LayoutKind, RunRole } from './types';

/** A length of tubing or pipe as a layout proposes it, before it is cut, fed and counted. */
export interface SketchRun {
  /** Unique in its circuit. */
  readonly key: string;
  readonly role: RunRole;
  readonly use?: 'supply-header' | 'flush-header' | 'spur' | 'link';
  readonly closed: boolean;
  /** Closed paths repeat their first point. */
  readonly path: Polyline;
  /** Its emitters stand half a spacing out of step with the next row's. */
  readonly isStaggered?: boolean;
  /** Cut so that its last emitter lies at its end: a spur to a plant. */
  readonly endsAtEmitter?: boolean;
}

/** A fitting between runs of one circuit. */
export interface SketchJoin {
  readonly at: PlanPoint;
  readonly runKeys: readonly string[];
  readonly fitting: JoinFitting;
}

/**
 * Tubing fed from one stub-up. A closed main run is fed wherever it comes nearest to the stub-up; an open one at either
 * end (the nearer) where `canTurn`, else at its first point.
 */
export interface Circuit {
  /** The fed run first. */
  readonly runs: readonly SketchRun[];
  readonly joins: readonly SketchJoin[];
  /** The run that is flushed: a loop where its two flows meet, an open run at its far end. */
  readonly flushKey: string;
  readonly canTurn: boolean;
  /** Its lead, where the designer keeps one; else it is fed from wherever suits. */
  readonly lead?: { readonly from: PlanPoint; readonly to: PlanPoint };
}

/** One way of watering one piece of ground. */
export interface Sketch {
  readonly layout: LayoutKind;
  readonly rowSpacingM: number;
  readonly directionRad: number;
  /** Tells this choice from others of its layout: direction, rows, side. Kept by the designer's choice and the preview's memory. */
  readonly key: string;
  readonly circuits: readonly Circuit[];
  /** How its closed loop lies, as the router names it. */
  readonly topology?: string;
  /** One row where a loop of two would fit: taken only where no loop waters the ground. */
  readonly isSparing?: boolean;
}

/** The key of a sketch among those of all layouts. */
export function keyOf(sketch: Sketch): string {
  return sketch.layout === 'laterals' ? `laterals-${sketch.key}` : sketch.key;
}
