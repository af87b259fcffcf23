import type { MultiPolygon, PlanPoint, Polyline, Ring } from '../geometry';
import type { Problem } from '../units';
import type { OwnFrame } from './ownFrame';

export type EdgeClass = 'open' | 'paving' | 'lawn' | 'foundation' | 'boundary' | 'obstacle';
export type LayoutKind = 'loop' | 'loop-centre-row' | 'strip' | 'laterals' | 'contour';
export type RunRole = 'loop' | 'centre-row' | 'single-row' | 'lateral' | 'ring' | 'connector' | 'lead';

/** One ring of a bed as it goes in: edge i runs from point i to point i + 1. Dirty input is allowed: duplicates, spikes, crossings. */
export interface BedRing {
  readonly points: Ring;
  /** Class and least distance of tubing from each edge. Same length as `points`. */
  readonly edges: readonly { readonly class: EdgeClass; readonly offsetM: number }[];
}

/** Ground inside a bed that tubing must keep off: a boulder, a trunk, a light, a box. */
export interface Obstacle {
  readonly id: string;
  readonly outline: Ring;
  readonly clearanceM: number;
}

/** Everything the router needs of one bed. It reads nothing else. */
export interface LayoutInput {
  readonly bedId: string;
  /** Outer ring first, then holes. */
  readonly rings: readonly BedRing[];
  readonly obstacles: readonly Obstacle[];
  /** Points that may be given a ring of tubing on a tee (trees), where `treeRings` is on. */
  readonly trees: readonly {
    readonly id: string;
    readonly at: PlanPoint;
    readonly trunkRadiusM: number;
    readonly ringRadiusM: number;
  }[];
  readonly treeRings: boolean;
  /** Plants that are to have a spur of their own. */
  readonly spurPlants: readonly {
    readonly id: string;
    readonly at: PlanPoint;
    readonly rootBallRadiusM: number;
  }[];
  readonly rowSpacingM: number;
  /** How far rows may exceed the nominal spacing, 0.15 = 15 %. */
  readonly rowStretchRatio: number;
  /** Anticlockwise from east; null: the router chooses. */
  readonly rowDirectionRad: number | null;
  /** Steepness (rise over run) and compass bearing of downhill, clockwise from north; null on flat ground. */
  readonly slope: { readonly ratio: number; readonly towardRad: number } | null;
  readonly bendRadiusM: number;
  /** Longest allowed loop, from the run limit or the designer. */
  readonly maxRunM: number | null;
  readonly stubUp: PlanPoint | null;
  /** The stub-up may be moved along the bed's edge. */
  readonly stubUpMovable: boolean;
  /** The designer's choice; null: the fittest. */
  readonly layout: LayoutKind | null;
  /** Key of the alternative the designer chose, kept while it stays valid. */
  readonly chosenAlternative: string | null;
  readonly emitterSpacingM: number;
  readonly wettedDiameterM: number;
  readonly staggered: boolean;
  /** A route drawn or locked by hand: kept as it is and verified all the same. */
  readonly locked: readonly LockedRun[] | null;
  readonly quality: 'preview' | 'finished';
  /** Topology of the last result, so that a preview and its finish do not jump. Opaque outside the room. */
  readonly previous: RouteMemory | null;
  /** Roll-handling weight of a turn in the fitness, metres of tubing. */
  readonly turnWeightM: number;
}

export interface LockedRun {
  readonly role: RunRole;
  /** What a plain piece is for; absent where it was drawn by hand. */
  readonly use?: Run['use'] | undefined;
  readonly closed: boolean;
  readonly path: Polyline;
}

/** What the router remembers of a choice: direction, levels subset, side, layout. */
export interface RouteMemory {
  readonly layout: LayoutKind;
  readonly directionRad: number;
  readonly rowSpacingM: number;
  readonly key: string;
  /** How its closed loop lies: direction, levels held fixed, side of the spine. Absent where it has none. */
  readonly topology?: string;
  /** The frame it is remembered in: a dragged bed keeps to it. Absent where the bed was laid as it is drawn. */
  readonly frame?: OwnFrame;
}

/** One piece of tubing. Closed paths repeat their first point at the end. */
export interface Run {
  readonly id: string;
  readonly role: RunRole;
  /** What a plain piece is for; headers inside a bed are connectors. */
  readonly use?: 'supply-header' | 'flush-header' | 'spur' | 'link';
  readonly closed: boolean;
  readonly path: Polyline;
  readonly lengthM: number;
  /** Distances along the path, ascending; empty on plain pieces. */
  readonly emittersM: readonly number[];
  readonly startsAt: PlanPoint;
  /** Where the two flows meet or the run ends: distance along the path; null on plain pieces. */
  readonly flushAtM: number | null;
  readonly minBendRadiusM: number;
  readonly straightFraction: number;
  readonly turns: number;
}

export type JoinFitting = 'tee' | 'elbow' | 'coupling' | 'end-cap' | 'flush-valve' | 'stub-up-tee' | 'splice';

/** The only places where tubing may meet. */
export interface Join {
  readonly x: number;
  readonly y: number;
  readonly runIds: readonly string[];
  readonly fitting: JoinFitting;
}

export interface Coverage {
  /** Share of the usable ground within 0.55 of the row spacing as laid. */
  readonly coveredRatio: number;
  readonly maxGapM: number;
  /** Ground left further than that, for drawing. */
  readonly gaps: readonly { readonly x: number; readonly y: number; readonly distanceM: number }[];
  /** Share of emitter pairs along and across rows whose wetted circles overlap at the worst emitter phase. */
  readonly worstPhaseOverlapRatio: number;
}

/** A choice not taken, with the figures to compare it by. */
export interface Alternative {
  readonly key: string;
  readonly layout: LayoutKind;
  readonly rowSpacingM: number;
  readonly stretchRatio: number;
  readonly directionRad: number;
  readonly runs: readonly Run[];
  readonly joins: readonly Join[];
  readonly lengthM: number;
  readonly turns: number;
  readonly rows: number;
  readonly fittings: number;
  readonly straightFraction: number;
  readonly coverage: Coverage;
  readonly valid: boolean;
  readonly costM: number;
}

/** The answer for one part of one bed (a bow-tie gives two parts, `id/1` and `id/2`). */
export interface BedLayout {
  readonly bedId: string;
  readonly status: 'routed' | 'refused';
  readonly areaM2: number;
  readonly usable: MultiPolygon;
  readonly usableAreaM2: number;
  readonly outline: MultiPolygon;
  readonly layout: LayoutKind;
  readonly nominalRowSpacingM: number;
  readonly rowSpacingM: number;
  readonly directionRad: number;
  readonly stubUp: PlanPoint;
  readonly runs: readonly Run[];
  readonly joins: readonly Join[];
  readonly coverage: Coverage;
  readonly chosen: string;
  readonly alternatives: readonly Alternative[];
  readonly ruleOfThumbLengthM: number;
  readonly memory: RouteMemory | null;
  readonly problems: readonly Problem[];
  /** Figures of the independent verifier; `passed` is what the screen and the sheet trust. */
  readonly verified: Verification;
}

/** What the verifier measured, by code that shares nothing with the router. */
export interface Verification {
  readonly passed: boolean;
  readonly crossings: number;
  readonly worstClearanceM: number;
  readonly separationM: number;
  readonly minBendRadiusM: number;
  readonly closed: boolean;
  readonly failures: readonly string[];
}
