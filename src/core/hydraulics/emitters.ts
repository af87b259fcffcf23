import type { EmitterLaw } from '../catalog';

/** Under this head a power law is led smoothly to nothing at no head, m: 5 mm, far below any working pressure. */
const OPENING_HEAD_M = 0.005;
/** Half width of the rounded knee between rising branch and plateau, as a share of the threshold. */
const KNEE_RATIO = 1e-3;

/** Emitters compiled for the solver, one entry an outlet; several may sit on one node. */
export interface EmitterLaws {
  readonly count: number;
  /** Position of the node each emitter sits on. */
  readonly node: Int32Array;
  /** Total head at which the emitter begins to give: elevation plus opening head. */
  readonly baseHeadM: Float64Array;
  /** q = k h^x on the rising branch. */
  readonly k: Float64Array;
  readonly exponent: Float64Array;
  /** Head where the plateau begins; infinite for a plain power law. */
  readonly thresholdM: Float64Array;
  readonly plateauM3s: Float64Array;
  readonly plateauSlope: Float64Array;
}

/** Room for `count` emitters. */
export function emptyEmitters(count: number): EmitterLaws {
  return {
    count,
    node: new Int32Array(count),
    baseHeadM: new Float64Array(count),
    k: new Float64Array(count),
    exponent: new Float64Array(count),
    thresholdM: new Float64Array(count),
    plateauM3s: new Float64Array(count),
    plateauSlope: new Float64Array(count),
  };
}

/** Puts one law at place `i` of the compiled emitters. */
export function setEmitter(laws: EmitterLaws, i: number, node: number, elevationM: number, law: EmitterLaw) {
  const openM = law.openHeadM ?? 0;
  laws.node[i] = node;
  laws.baseHeadM[i] = elevationM + openM;
  if (law.kind === 'power') {
    laws.k[i] = law.nominalFlowM3s / (law.nominalHeadM - openM) ** law.exponent;
    laws.exponent[i] = law.exponent;
    laws.thresholdM[i] = Number.POSITIVE_INFINITY;
    laws.plateauM3s[i] = 0;
    laws.plateauSlope[i] = 0;
    return;
  }
  const thresholdM = law.thresholdHeadM - openM;
  laws.k[i] = law.nominalFlowM3s / thresholdM ** law.belowExponent;
  laws.exponent[i] = law.belowExponent;
  laws.thresholdM[i] = thresholdM;
  laws.plateauM3s[i] = law.nominalFlowM3s;
  laws.plateauSlope[i] = law.nominalFlowM3s * law.plateauSlopePerM;
}

/**
 * Flow of every compiled emitter and its derivative by head, at the given total heads. Rising, with a continuous
 * derivative: nothing at or below the opening head, a cubic over the first 5 mm, the power law, a knee rounded over
 * 0.1 % of the threshold, the plateau.
 */
export function evaluateEmitters(
  laws: EmitterLaws,
  headM: Float64Array,
  flowM3s: Float64Array,
  slope: Float64Array,
): void {
  const { count, node, baseHeadM, k, exponent, thresholdM, plateauM3s, plateauSlope } = laws;
  for (let i = 0; i < count; i++) {
    const h = headM[node[i]!]! - baseHeadM[i]!;
    const threshold = thresholdM[i]!;
    if (h <= 0) {
      flowM3s[i] = 0;
      slope[i] = 0;
    } else if (h >= threshold * (1 + KNEE_RATIO)) {
      flowM3s[i] = plateauM3s[i]! + plateauSlope[i]! * (h - threshold);
      slope[i] = plateauSlope[i]!;
    } else if (h > threshold * (1 - KNEE_RATIO)) {
      roundKnee(laws, i, h, flowM3s, slope);
    } else if (h < OPENING_HEAD_M) {
      const t = h / OPENING_HEAD_M;
      const x = exponent[i]!;
      const top = k[i]! * OPENING_HEAD_M ** x;
      flowM3s[i] = top * t * t * (3 - x + (x - 2) * t);
      slope[i] = (top * t * (2 * (3 - x) + 3 * (x - 2) * t)) / OPENING_HEAD_M;
    } else {
      const x = exponent[i]!;
      const q = k[i]! * (x === 0.5 ? Math.sqrt(h) : Math.exp(x * Math.log(h)));
      flowM3s[i] = q;
      slope[i] = (x * q) / h;
    }
  }
}

/** A cubic through value and slope of both branches at the two ends of the knee. */
function roundKnee(laws: EmitterLaws, i: number, h: number, flowM3s: Float64Array, slope: Float64Array) {
  const threshold = laws.thresholdM[i]!;
  const start = threshold * (1 - KNEE_RATIO);
  const width = 2 * KNEE_RATIO * threshold;
  const t = (h - start) / width;
  const q0 = laws.k[i]! * start ** laws.exponent[i]!;
  const s0 = (laws.exponent[i]! * q0 * width) / start;
  const s1 = laws.plateauSlope[i]! * width;
  const q1 = laws.plateauM3s[i]! + s1 / 2;
  const c = 3 * (q1 - q0) - 2 * s0 - s1;
  const d = s0 + s1 - 2 * (q1 - q0);
  flowM3s[i] = q0 + t * (s0 + t * (c + t * d));
  slope[i] = (s0 + t * (2 * c + 3 * t * d)) / width;
}

/**
 * What one emitter lets through at a pressure head.
 *
 * @param headM pressure head at the emitter, m; nothing flows at or below its opening head
 * @returns m3/s
 * Range: the law's own `minHeadM` to `maxHeadM`; outside it the curve goes on and `emitterRange` says so.
 * Source: q = k h^x (Keller and Karmeli, 1974); compensating: rising branch, then a plateau, common description.
 */
export function emitterFlowM3s(law: EmitterLaw, headM: number): number {
  if (!Number.isFinite(headM)) throw new Error('emitterFlowM3s needs a finite head');
  const laws = emptyEmitters(1);
  setEmitter(laws, 0, 0, 0, law);
  const flow = new Float64Array(1);
  evaluateEmitters(laws, Float64Array.of(headM), flow, new Float64Array(1));
  return flow[0]!;
}

/** Whether a pressure head lies inside the working range of an emitter; a compensating one works from its threshold on. */
export function emitterRange(law: EmitterLaw, headM: number): 'below' | 'within' | 'above' {
  const least = law.kind === 'compensating' ? Math.max(law.minHeadM, law.thresholdHeadM) : law.minHeadM;
  if (headM < least) return 'below';
  return headM > law.maxHeadM ? 'above' : 'within';
}

/**
 * Coefficient and exponent of q = k h^x through two tested points: x = ln(q1/q2) / ln(h1/h2).
 * Needs two different heads, all four numbers positive; else throws.
 */
export function fitPowerLaw(
  first: { readonly headM: number; readonly flowM3s: number },
  second: { readonly headM: number; readonly flowM3s: number },
): { readonly k: number; readonly exponent: number } {
  const exponent = Math.log(first.flowM3s / second.flowM3s) / Math.log(first.headM / second.headM);
  const k = first.flowM3s / first.headM ** exponent;
  if (!(Number.isFinite(exponent) && Number.isFinite(k)))
    throw new Error('fitPowerLaw needs two different positive points');
  return { k, exponent };
}
