import type { EmitterLaw, LossCurve } from '../catalog';

/** One point of the network. Heads are total head above the plan's datum; pressure head = head - elevation. */
export interface NetworkNode {
  readonly id: string;
  readonly elevationM: number;
  /** Head held here; absent: a junction. The source is a fixed-head node behind a `supply` link, or directly. */
  readonly fixedHeadM?: number;
  readonly emitter?: EmitterLaw;
  /** Taken out whatever the pressure. */
  readonly demandM3s?: number;
}

interface LinkEnds {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  /** Shut off: no flow, whatever the heads. Absent: open. */
  readonly isClosed?: boolean;
}

/** A link of the network. Flow is positive from `from` to `to`. */
export type NetworkLink =
  | (LinkEnds & {
      readonly kind: 'pipe';
      readonly lengthM: number;
      readonly insideDiameterM: number;
      readonly friction: FrictionLaw;
      readonly lossK: number;
    })
  /** Falls along a curve of available head against flow (a drop below the source's static head). */
  | (LinkEnds & { readonly kind: 'supply'; readonly curve: SupplyCurve })
  | (LinkEnds & {
      readonly kind: 'device';
      readonly device: DeviceKind;
      readonly loss: LossCurve;
      /** Lets water pass from `from` to `to` only: shuts where it would run back. Absent: both ways. */
      readonly isOneWay?: boolean;
    })
  | (LinkEnds & {
      readonly kind: 'regulator';
      readonly setHeadM: number;
      readonly droop: number;
      readonly loss: LossCurve;
      readonly minInletHeadM: number;
    });

/** What a device is; the solver treats all alike, diagnosis and drawings do not. */
export type DeviceKind = 'meter' | 'backflow' | 'valve' | 'filter' | 'fitting' | 'service' | 'check-valve';

/** How friction in a pipe is computed. */
export type FrictionLaw =
  | { readonly kind: 'hazen-williams'; readonly c: number }
  | {
      readonly kind: 'darcy-weisbach';
      readonly absoluteRoughnessM: number;
      readonly turbulent: 'swamee-jain' | 'blasius';
    };

/**
 * Head the source gives at its outlet (pressure head, m) against flow.
 * `two-point`: static and one residual, exponent 1.85; `points`: a pump, well or tank curve; `constant`: a tank or no test.
 */
export type SupplyCurve =
  | {
      readonly kind: 'two-point';
      readonly staticHeadM: number;
      readonly residualHeadM: number;
      readonly testFlowM3s: number;
      readonly exponent: number;
    }
  | {
      readonly kind: 'points';
      readonly points: readonly { readonly flowM3s: number; readonly headM: number }[];
    }
  | { readonly kind: 'constant'; readonly headM: number };

/** A network of pipes, devices and outlets in its steady state. */
export interface Network {
  readonly nodes: readonly NetworkNode[];
  readonly links: readonly NetworkLink[];
  readonly kinematicViscosityM2s: number;
}

/** `active`: a regulator holding its setting. `closed`: shut by hand, or a one-way part that water would run back through. */
export type LinkState = 'open' | 'active' | 'closed';

/** Arrays run parallel to the network's nodes and links. */
export interface Solution {
  readonly status: 'settled' | 'unsettled' | 'refused';
  readonly iterations: number;
  /** Greatest mass imbalance at any junction. */
  readonly worstResidualM3s: number;
  readonly worstNodeId: string | null;
  /** Total head, m. */
  readonly headM: Float64Array;
  readonly outflowM3s: Float64Array;
  readonly flowM3s: Float64Array;
  readonly velocityMs: Float64Array;
  readonly headlossM: Float64Array;
  readonly state: readonly LinkState[];
  /** Why the network was refused: codes with node or link ids (disconnected, zero length, no source ...). */
  readonly issues: readonly { readonly code: string; readonly id: string }[];
}
