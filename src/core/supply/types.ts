import type { Assembly, Backflow, Dripline, Pipe } from '../catalog';
import type { MultiPolygon, PlanPoint, Polyline } from '../geometry';
import type { Network, Solution } from '../hydraulics';
import type { BedLayout } from '../layout';
import type { Problem, Traced } from '../units';

/** A bed with what was chosen for it, as the supply stage receives it. */
export interface ServedBed {
  readonly bedId: string;
  readonly name: string;
  readonly plants: string;
  readonly sun: string;
  readonly soil: string;
  readonly slopeRatio: number;
  /** Density times microclimate where the designer set them: beds of one need may still drink unlike. Absent: 1. */
  readonly waterFactor?: number;
  readonly elevationM: number;
  readonly zoneKey: string | null;
  readonly dripline: Dripline;
  readonly layout: BedLayout;
  /** Ground height at a plan point (spot heights, slope), m. */
  readonly elevationAt: (p: PlanPoint) => number;
}

export type PipeRole = 'main' | 'header' | 'sleeve';

/** One straight-through length of plain pipe between two fittings, drawn and counted. */
export interface HeaderPipe {
  readonly id: string;
  readonly role: PipeRole;
  readonly path: Polyline;
  readonly lengthM: number;
  readonly pipe: Pipe;
  readonly depthM: number;
  readonly flowM3s: number;
  readonly velocityMs: number;
  readonly headlossM: number;
  readonly locked: boolean;
}

/** A crossing under paving, with the length of sleeve between its collared ends. */
export interface Sleeve {
  readonly id: string;
  readonly path: Polyline;
  readonly lengthM: number;
  readonly pipe: Pipe;
  readonly under: string;
  /** A wire goes through the sleeve of a pipe where they share a trench, else through its own. */
  readonly carries: 'pipe' | 'wire';
}

export interface UtilityCrossing {
  readonly utilityId: string;
  readonly at: PlanPoint;
  readonly pipeId: string;
}

/** A device drawn by symbol at a place. */
export interface Device {
  readonly id: string;
  readonly kind:
    | 'connection'
    | 'meter'
    | 'backflow'
    | 'shut-off'
    | 'master-valve'
    | 'flow-sensor'
    | 'valve-assembly'
    | 'flush-valve'
    | 'air-relief'
    | 'drain-point'
    | 'check-valve'
    | 'controller';
  readonly at: PlanPoint;
  readonly angleRad: number;
  readonly partId: string | null;
  readonly zoneId: string | null;
}

export interface Spread {
  readonly min: number;
  readonly mean: number;
  readonly max: number;
  readonly lowQuarterMean: number;
}

/** One emitter as solved. */
export interface EmitterArrays {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Index into `runIds`. */
  readonly run: Int32Array;
  readonly distanceM: Float64Array;
  readonly headM: Float64Array;
  readonly flowM3s: Float64Array;
  readonly runIds: readonly string[];
}

export interface FlushResult {
  readonly at: PlanPoint;
  readonly runId: string;
  readonly distanceM: number;
  readonly flowM3s: number;
  /** Slower of the two legs that meet at the flush point. */
  readonly endVelocityMs: number;
  readonly ok: boolean;
  /** Where the two flows of this loop meet while it waters, along the run; null where they never do. */
  readonly meetsAtM: number | null;
}

export interface Zone {
  readonly id: string;
  readonly number: number;
  readonly name: string;
  readonly zoneKey: string | null;
  readonly bedIds: readonly string[];
  readonly assembly: Assembly;
  readonly assemblyAt: PlanPoint;
  readonly pipes: readonly HeaderPipe[];
  /** Headers of the plan, drawn by hand, that lead this zone's water. */
  readonly drawnPipeIds: readonly string[];
  readonly sleeves: readonly Sleeve[];
  readonly devices: readonly Device[];
  readonly network: Network;
  readonly solution: Solution;
  readonly emitters: EmitterArrays;
  readonly flowM3s: number;
  readonly emitterHeadM: Spread;
  readonly emitterFlowM3s: Spread;
  readonly worstEmitter: {
    readonly runId: string;
    readonly distanceM: number;
    readonly x: number;
    readonly y: number;
    readonly headM: number;
  };
  readonly emissionUniformity: number;
  readonly distributionUniformity: number;
  readonly statisticalUniformity: number;
  readonly flush: readonly FlushResult[];
  readonly flushTogether: number;
  /** Head at the connection that brings the last emitter to its least head, at the operating point. */
  readonly requiredSourceHeadM: number;
  readonly availableSourceHeadM: number;
  /** Node ids of the network at the places a crew reads. */
  readonly readAt: {
    readonly afterRegulator: string;
    readonly regulatorInlet: string;
    readonly connection: string;
  };
  /** Where the tubing lies in the network: each run's pieces in order, each bed's stub-up, each flush point. */
  readonly tubing: {
    readonly pieces: readonly {
      readonly runId: string;
      readonly linkId: string;
      readonly fromM: number;
      readonly toM: number;
    }[];
    readonly stubUps: readonly { readonly bedId: string; readonly nodeId: string }[];
    readonly flush: readonly {
      readonly nodeId: string;
      readonly runId: string;
      readonly distanceM: number;
    }[];
  };
  /** Low points of the headers, drained before frost: each a node of the network and a device on the trench. */
  readonly drains: readonly { readonly nodeId: string; readonly deviceId: string; readonly at: PlanPoint }[];
  readonly sizingIterations: number;
  /** Why these beds: codes with parameters. */
  readonly why: readonly Problem[];
  readonly traces: readonly Traced[];
  readonly problems: readonly Problem[];
}

/** The whole supply side of a plan. */
export interface SupplyDesign {
  readonly zones: readonly Zone[];
  readonly main: readonly HeaderPipe[];
  readonly sleeves: readonly Sleeve[];
  readonly crossings: readonly UtilityCrossing[];
  readonly devices: readonly Device[];
  readonly backflow: Backflow | null;
  readonly wires: readonly {
    readonly zoneId: string | null;
    readonly path: Polyline;
    readonly lengthM: number;
  }[];
  readonly sourceCurve: readonly { readonly flowM3s: number; readonly headM: number }[];
  readonly usableFlowM3s: number | null;
  readonly blocked: MultiPolygon;
  readonly problems: readonly Problem[];
  readonly traces: readonly Traced[];
}
