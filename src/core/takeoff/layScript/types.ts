import type { PlanPoint } from '../../geometry';
import type { JoinFitting, RunRole } from '../../layout';

/** A point that stays where it is while the crew works; the lower its rank, the rather a tape is held to it. */
export interface FixedSpot {
  readonly id: string;
  readonly at: PlanPoint;
  /** 0 a building's corner, 1 paving, 2 anything else that stands, 3 a staked corner of the bed. */
  readonly rank: number;
}

/** Two fixed points that tapes are held to. */
export interface SpotPair<S extends FixedSpot = FixedSpot> {
  readonly first: S;
  readonly second: S;
  /** Where every point tied to the pair lies, seen from the first looking to the second. */
  readonly side: 'left' | 'right' | 'both';
}

/** A place by two tapes. */
export interface LayTie {
  /** Index into the script's pairs. */
  readonly pair: number;
  readonly firstM: number;
  readonly secondM: number;
  readonly side: 'left' | 'right';
  /** Sine of the angle at which the tapes cross there, 0..1. */
  readonly crossingSine: number;
}

/** Where a step ends: distance along the run, emitters laid so far, how far past the last of them, and the ground. */
export interface LayPlace {
  readonly alongM: number;
  readonly emitter: number;
  readonly pastM: number;
  /** Distance on to the next emitter; null past the last. */
  readonly beforeNextM: number | null;
  readonly at: PlanPoint;
  /** Null where no pair of fixed points is within a tape's reach. */
  readonly tie: LayTie | null;
}

/**
 * One step of laying. A move is walked: first the heading changes on the spot by `bearRad`, then the tubing runs straight
 * (`sweepRad` 0) or round an arc that changes the heading by `sweepRad`; left is positive. Everything else happens at one place.
 */
export type LayStep = LayPlace &
  (
    | {
        readonly kind: 'straight' | 'turn' | 'curve';
        readonly fromM: number;
        readonly bearRad: number;
        readonly sweepRad: number;
        /** Straight distance between the step's two ends. */
        readonly chordM: number;
        /** Greatest distance of the arc from that straight line. */
        readonly bowM: number;
      }
    | { readonly kind: 'begin'; readonly rollNumber: number | null }
    | { readonly kind: 'splice'; readonly fromRoll: number; readonly toRoll: number }
    | { readonly kind: 'join'; readonly fitting: JoinFitting; readonly runIds: readonly string[] }
    | { readonly kind: 'end'; readonly closes: boolean }
  );

/** A step that lays tubing. */
export type LayMove = Extract<LayStep, { readonly kind: 'straight' | 'turn' | 'curve' }>;

/** The order of laying one piece of tubing. */
export interface RunScript {
  readonly runId: string;
  readonly role: RunRole;
  readonly emitters: number;
  readonly lengthM: number;
  readonly begin: PlanPoint;
  /** Direction in which the first move sets out, radians anticlockwise from east. */
  readonly headingRad: number;
  readonly steps: readonly LayStep[];
}

/** The order of laying one bed, walked by counting emitters. */
export interface LayScript<S extends FixedSpot = FixedSpot> {
  readonly bedId: string;
  readonly pairs: readonly SpotPair<S>[];
  readonly runs: readonly RunScript[];
}
