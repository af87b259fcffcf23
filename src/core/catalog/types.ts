import type { Source } from '../units';

/** Every part says where its figures come from. Shipped parts are `typical`; the user's own file makes them `user`. */
interface Part {
  readonly id: string;
  readonly name: string;
  readonly source: Source;
  /** The user's supplier number, size and thread words; empty in the shipped catalogue. */
  readonly order?: {
    readonly partNumber?: string;
    readonly size?: string;
    readonly thread?: string;
    readonly price?: number;
  };
}

/** In-line emitter tubing. */
export interface Dripline extends Part {
  readonly kind: 'dripline';
  readonly emitterFlowM3s: number;
  readonly emitterSpacingM: number;
  readonly insideDiameterM: number;
  readonly outsideDiameterM: number;
  readonly minBendRadiusM: number;
  readonly emitter: EmitterLaw;
  /** Local loss of one in-line emitter, as K on the velocity head in the tube. */
  readonly emitterLossK: number;
  readonly absoluteRoughnessM: number;
  readonly rollLengthsM: readonly number[];
  readonly checkValve: boolean;
  readonly flushVelocityMs: number;
}

/**
 * What one emitter lets through. `power`: q = nominal x (h / nominalHead)^x.
 * `compensating`: the power law below the threshold, then the plateau q = nominal x (1 + slopePerM x (h - threshold)) to the upper limit.
 * `openHeadM` (absent: 0): nothing flows at or below it (a check valve in the emitter); the rising branch counts from there.
 */
export type EmitterLaw =
  | {
      readonly kind: 'power';
      readonly nominalFlowM3s: number;
      readonly nominalHeadM: number;
      readonly exponent: number;
      readonly variationCv: number;
      readonly minHeadM: number;
      readonly maxHeadM: number;
      readonly openHeadM?: number;
    }
  | {
      readonly kind: 'compensating';
      readonly nominalFlowM3s: number;
      readonly thresholdHeadM: number;
      readonly belowExponent: number;
      readonly plateauSlopePerM: number;
      readonly maxHeadM: number;
      readonly variationCv: number;
      readonly minHeadM: number;
      readonly openHeadM?: number;
    };

/** Plain pipe: PVC, PE, blank tubing, sleeves. */
export interface Pipe extends Part {
  readonly kind: 'pipe';
  readonly material: 'pvc-sch40' | 'pvc-class200' | 'pe' | 'blank-tubing' | 'sleeve' | 'copper';
  readonly nominal: string;
  readonly insideDiameterM: number;
  readonly outsideDiameterM: number;
  readonly hazenWilliamsC: number;
  readonly absoluteRoughnessM: number;
  readonly stickLengthM: number;
  readonly maxHeadM: number;
  readonly friction: 'darcy-weisbach' | 'hazen-williams';
}

/** Head loss of a device against flow: headM = k x flow^n beyond an offset, or points of a curve (flowM3s ascending). */
export type LossCurve =
  | { readonly kind: 'quadratic'; readonly kSI: number; readonly offsetM: number }
  | {
      readonly kind: 'points';
      readonly points: readonly { readonly flowM3s: number; readonly headM: number }[];
    };

/** Valve, filter and regulator in one box. */
export interface Assembly extends Part {
  readonly kind: 'assembly';
  readonly class: 'low-flow' | 'high-flow';
  readonly minFlowM3s: number;
  readonly maxFlowM3s: number;
  readonly regulatedHeadM: number;
  /** Least head at the regulator's inlet for it to hold its setting. */
  readonly regulatorMinInletHeadM: number;
  /** Fall of the outlet per unit of flow (m of head per m3/s). */
  readonly regulatorDroop: number;
  readonly valveLoss: LossCurve;
  readonly filterLossClean: LossCurve;
  readonly filterLossLoaded: LossCurve;
  readonly filterMesh: number;
  readonly connection: string;
  readonly box: string;
  /** Greatest pressure head it is made for; absent where the maker's figure is not known. */
  readonly maxHeadM?: number;
}

export interface Meter extends Part {
  readonly kind: 'meter';
  readonly sizeM: number;
  readonly maxContinuousFlowM3s: number;
  readonly loss: LossCurve;
  /** Greatest pressure head it is made for; absent where the maker's figure is not known. */
  readonly maxHeadM?: number;
}

export interface Backflow extends Part {
  readonly kind: 'backflow';
  readonly type:
    | 'pressure-vacuum-breaker'
    | 'reduced-pressure'
    | 'double-check'
    | 'atmospheric-vacuum-breaker'
    | 'air-gap';
  readonly sizeM: number;
  readonly loss: LossCurve;
  /** Least height of the device above the highest emitter; null where the type has no such rule. */
  readonly minHeightAboveHighestOutletM: number | null;
  /** Greatest pressure head it is made for; absent where the maker's figure is not known. */
  readonly maxHeadM?: number;
}

/** Tees, elbows, couplings, staples, boxes, wire, glue and everything else that is counted. */
export interface Fitting extends Part {
  readonly kind: 'fitting';
  readonly use: string;
  readonly lossK: number;
  readonly packOf: number;
}

export interface Catalog {
  readonly driplines: readonly Dripline[];
  readonly pipes: readonly Pipe[];
  readonly assemblies: readonly Assembly[];
  readonly meters: readonly Meter[];
  readonly backflows: readonly Backflow[];
  readonly fittings: readonly Fitting[];
}
