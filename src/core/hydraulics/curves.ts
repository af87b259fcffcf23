import type { LossCurve } from '../catalog';
import type { SupplyCurve } from './types';

/** Flow at which a loss that does not vanish with flow has all but reached its full height, m3/s. */
const OFFSET_FLOW_M3S = 1e-7;
const STILL_FLOW_M3S = 1e-8;

/** A link law that is not a pipe's: head lost at a flow, with its derivative. Odd and rising in the flow. */
export type CurveLaw =
  | { readonly kind: 'offset-power'; readonly offsetM: number; readonly k: number; readonly exponent: number }
  | {
      readonly kind: 'points';
      readonly flowM3s: readonly number[];
      readonly lossM: readonly number[];
    };

/** Head lost at a flow, m, and its derivative, m per m3/s. */
export interface LossAt {
  readonly lossM: number;
  readonly gradient: number;
}

/** Head lost at a flow by a curve law. Points are joined by straight lines and carried on along the first and last. */
export function evaluateCurve(law: CurveLaw, flowM3s: number): LossAt {
  const q = Math.abs(flowM3s);
  let offsetM: number;
  let lossM: number;
  let gradient: number;
  if (law.kind === 'offset-power') {
    const square = q * q + STILL_FLOW_M3S * STILL_FLOW_M3S;
    const chord = law.k * (law.exponent === 2 ? Math.sqrt(square) : square ** ((law.exponent - 1) / 2));
    offsetM = law.offsetM;
    lossM = chord * q;
    gradient = chord * (1 + ((law.exponent - 1) * q * q) / square);
  } else {
    const { flowM3s: flows, lossM: losses } = law;
    let i = 1;
    while (i < flows.length - 1 && q > flows[i]!) i++;
    gradient = (losses[i]! - losses[i - 1]!) / (flows[i]! - flows[i - 1]!);
    offsetM = losses[i]! - gradient * flows[i]!;
    lossM = gradient * q;
    if (i > 1) {
      lossM += offsetM;
      offsetM = 0;
    }
  }
  const root = Math.sqrt(q * q + OFFSET_FLOW_M3S * OFFSET_FLOW_M3S);
  lossM += (offsetM * q) / root;
  gradient += (offsetM * OFFSET_FLOW_M3S * OFFSET_FLOW_M3S) / (root * root * root);
  return { lossM: flowM3s < 0 ? -lossM : lossM, gradient };
}

/** The loss of a device as a curve law; a single point becomes a parabola through it. */
export function lossLaw(curve: LossCurve): CurveLaw {
  if (curve.kind === 'quadratic')
    return { kind: 'offset-power', offsetM: curve.offsetM, k: curve.kSI, exponent: 2 };
  return pointsLaw(curve.points.map((p) => ({ flowM3s: p.flowM3s, lossM: p.headM })));
}

/**
 * The drop of a supply below its head at no flow.
 * Two-point: h = (static - residual) (Q / Qtest)^1.85, the hydrant-test relation.
 * Source: NFPA 291. Points: straight lines between; a constant supply does not fall.
 */
export function supplyLaw(curve: SupplyCurve): CurveLaw {
  switch (curve.kind) {
    case 'two-point':
      return {
        kind: 'offset-power',
        offsetM: 0,
        k: (curve.staticHeadM - curve.residualHeadM) / curve.testFlowM3s ** curve.exponent,
        exponent: curve.exponent,
      };
    case 'points': {
      const stillM = stillHeadM(curve);
      return pointsLaw(curve.points.map((p) => ({ flowM3s: p.flowM3s, lossM: stillM - p.headM })));
    }
    case 'constant':
      return { kind: 'offset-power', offsetM: 0, k: 0, exponent: 1 };
  }
}

function pointsLaw(points: readonly { readonly flowM3s: number; readonly lossM: number }[]): CurveLaw {
  const [first] = points;
  if (first === undefined) return { kind: 'offset-power', offsetM: 0, k: 0, exponent: 1 };
  if (points.length === 1)
    return {
      kind: 'offset-power',
      offsetM: 0,
      k: first.lossM === 0 ? 0 : first.lossM / first.flowM3s ** 2,
      exponent: 2,
    };
  return {
    kind: 'points',
    flowM3s: points.map((p) => p.flowM3s),
    lossM: points.map((p) => p.lossM),
  };
}

/** Pressure head a supply shows with every tap shut, m. */
export function stillHeadM(curve: SupplyCurve): number {
  switch (curve.kind) {
    case 'two-point':
      return curve.staticHeadM;
    case 'constant':
      return curve.headM;
    case 'points':
      return curve.points[0]?.headM ?? 0;
  }
}

/** Pressure head a supply gives at a flow, m; may be negative past what it can give. */
export function supplyHeadM(curve: SupplyCurve, flowM3s: number): number {
  return stillHeadM(curve) - evaluateCurve(supplyLaw(curve), flowM3s).lossM;
}

/** Head lost in a device at a flow, m, same sign as the flow. */
export function deviceHeadM(curve: LossCurve, flowM3s: number): number {
  return evaluateCurve(lossLaw(curve), flowM3s).lossM;
}
