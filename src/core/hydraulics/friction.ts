import { type HydraulicConstants, STANDARD_CONSTANTS } from './constants';
import type { FrictionLaw } from './types';

/** One straight length of pipe with the local losses counted on its own velocity head. */
export interface PipeRun {
  /** > 0 */
  readonly lengthM: number;
  /** > 0 */
  readonly insideDiameterM: number;
  readonly friction: FrictionLaw;
  /** Sum of K of fittings and in-line emitters on this length, >= 0. */
  readonly lossK: number;
}

/** Below this flow Hazen-Williams runs straight into the origin, so that a still pipe keeps a slope. m3/s */
const STILL_FLOW_M3S = 1e-8;
const LAMINAR_LIMIT_RE = 2000;
const TURBULENT_LIMIT_RE = 4000;
const HAZEN_WILLIAMS = 0;
const SWAMEE_JAIN = 1;
const BLASIUS = 2;

/** Friction factor and its derivative by Reynolds number. */
interface FactorAt {
  readonly factor: number;
  readonly slope: number;
}

/**
 * Smooth-pipe friction factor of Blasius, f = 0.3164 / Re^0.25.
 * Range: Re 4 000 to 100 000; above that it reads low. Source: Blasius (1913).
 */
export function blasiusFactor(reynolds: number): FactorAt {
  const factor = 0.3164 / Math.sqrt(Math.sqrt(reynolds));
  return { factor, slope: (-0.25 * factor) / reynolds };
}

/**
 * Friction factor of Swamee and Jain, f = 0.25 / log10(e/(3.7 D) + 5.74 / Re^0.9)^2.
 * Range: Re 5 000 to 1e8, relative roughness 1e-6 to 1e-2; used from Re 4 000 on.
 * Source: Swamee and Jain (1976).
 */
export function swameeJainFactor(reynolds: number, relativeRoughness: number): FactorAt {
  const viscousTerm = 5.74 * Math.exp(-0.9 * Math.log(reynolds));
  const sum = relativeRoughness / 3.7 + viscousTerm;
  const inverseRoot = -2 * Math.LOG10E * Math.log(sum);
  const factor = 1 / (inverseRoot * inverseRoot);
  const inverseRootSlope = (2 * Math.LOG10E * 0.9 * viscousTerm) / (sum * reynolds);
  return { factor, slope: (-2 * factor * inverseRootSlope) / inverseRoot };
}

/**
 * The cubic in Re/2000 - 1 that leaves the laminar line at Re 2 000 and meets the turbulent law at Re 4 000 with
 * value and slope of both, so that Newton sees no kink.
 * Source: the cubic of E. Dunlop (1991) as used with Swamee-Jain in EPANET's manual, here for any turbulent law.
 */
function blendCoefficients(turbulent: FactorAt): readonly number[] {
  const start = 64 / LAMINAR_LIMIT_RE;
  const startSlope = -start;
  const endSlope = turbulent.slope * LAMINAR_LIMIT_RE;
  const rise = turbulent.factor - start;
  return [start, startSlope, 3 * rise - 2 * startSlope - endSlope, startSlope + endSlope - 2 * rise];
}

/** Pipes compiled for the solver: everything that does not change with flow, in flat arrays. */
export interface PipeLaws {
  readonly count: number;
  readonly form: Uint8Array;
  /** h = resistance x Q^1.852, or resistance x f x Q^2. */
  readonly resistance: Float64Array;
  /** h = local x Q^2. */
  readonly local: Float64Array;
  /** Reynolds number of one m3/s. */
  readonly reynoldsPerFlow: Float64Array;
  readonly areaM2: Float64Array;
  readonly row: Int32Array;
  readonly table: Float64Array;
}

/** Compiles pipes; O(n), one table row for each distinct relative roughness and law. */
export function compilePipes(
  pipes: readonly PipeRun[],
  kinematicViscosityM2s: number,
  constants: HydraulicConstants = STANDARD_CONSTANTS,
): PipeLaws {
  const count = pipes.length;
  const laws = {
    count,
    form: new Uint8Array(count),
    resistance: new Float64Array(count),
    local: new Float64Array(count),
    reynoldsPerFlow: new Float64Array(count),
    areaM2: new Float64Array(count),
    row: new Int32Array(count),
  };
  const table = new FactorTable();
  let last: PipeRun | null = null;
  let unit = { form: 0, areaM2: 0, localPerK: 0, resistancePerM: 0, reynoldsPerFlow: 0, row: 0 };
  for (let i = 0; i < count; i++) {
    const pipe = pipes[i]!;
    const { friction, insideDiameterM: boreM, lengthM } = pipe;
    if (last === null || last.insideDiameterM !== boreM || !isSameLaw(last.friction, friction)) {
      const areaM2 = (Math.PI * boreM * boreM) / 4;
      unit = {
        form: formOf(friction),
        areaM2,
        localPerK: constants.localLossCoefficient / boreM ** 4,
        resistancePerM: resistancePerM(friction, boreM, areaM2, constants),
        reynoldsPerFlow: 4 / (Math.PI * boreM * kinematicViscosityM2s),
        row:
          friction.kind === 'hazen-williams' ? 0 : table.rowOf(friction, friction.absoluteRoughnessM / boreM),
      };
    }
    laws.form[i] = unit.form;
    laws.areaM2[i] = unit.areaM2;
    laws.local[i] = unit.localPerK * pipe.lossK;
    laws.resistance[i] = unit.resistancePerM * lengthM;
    laws.reynoldsPerFlow[i] = unit.reynoldsPerFlow;
    laws.row[i] = unit.row;
    last = pipe;
  }
  return { ...laws, table: Float64Array.from(table.figures) };
}

/** One row for each relative roughness and turbulent law: the roughness, then the blend. */
class FactorTable {
  readonly figures: number[] = [];
  private readonly rows = new Map<string, number>();

  rowOf(friction: FrictionLaw, relativeRoughness: number): number {
    const form = formOf(friction);
    const key = `${form} ${relativeRoughness}`;
    const known = this.rows.get(key);
    if (known !== undefined) return known;
    const row = this.figures.length;
    const turbulent =
      form === BLASIUS
        ? blasiusFactor(TURBULENT_LIMIT_RE)
        : swameeJainFactor(TURBULENT_LIMIT_RE, relativeRoughness);
    this.figures.push(relativeRoughness, ...blendCoefficients(turbulent));
    this.rows.set(key, row);
    return row;
  }
}

function formOf(friction: FrictionLaw): number {
  if (friction.kind === 'hazen-williams') return HAZEN_WILLIAMS;
  return friction.turbulent === 'blasius' ? BLASIUS : SWAMEE_JAIN;
}

function resistancePerM(
  friction: FrictionLaw,
  boreM: number,
  areaM2: number,
  constants: HydraulicConstants,
): number {
  if (friction.kind === 'darcy-weisbach') return 1 / (2 * constants.gravityMs2 * boreM * areaM2 * areaM2);
  return (
    constants.hazenWilliamsCoefficient /
    (friction.c ** 1.852 * boreM ** constants.hazenWilliamsDiameterExponent)
  );
}

function isSameLaw(a: FrictionLaw, b: FrictionLaw): boolean {
  if (a === b) return true;
  if (a.kind === 'hazen-williams') return b.kind === a.kind && a.c === b.c;
  return b.kind === a.kind && a.absoluteRoughnessM === b.absoluteRoughnessM && a.turbulent === b.turbulent;
}

/**
 * Head lost along every compiled pipe, and its derivative by flow, at the given flows. Odd in the flow, rising, smooth.
 *
 * Hazen-Williams: h = 10.67 L Q^1.852 / (C^1.852 D^4.8704); plain water near 16 C, bore above about 50 mm by its origin,
 * turbulent flow; used smaller by custom. Below 1e-8 m3/s it is led linearly into the origin.
 * Darcy-Weisbach: h = f L V^2 / (2 g D); f = 64/Re to Re 2 000 (Hagen-Poiseuille), a cubic blend to 4 000, the chosen
 * turbulent law above. Local losses: h = K V^2 / (2 g).
 */
export function evaluatePipes(
  laws: PipeLaws,
  flowM3s: Float64Array,
  lossM: Float64Array,
  gradient: Float64Array,
  isDone?: Uint8Array,
): void {
  const { count, form, resistance, local, reynoldsPerFlow, row, table } = laws;
  for (let i = 0; i < count; i++) {
    if (isDone?.[i] === 1) continue;
    const signed = flowM3s[i]!;
    const q = Math.abs(signed);
    const r = resistance[i]!;
    let loss: number;
    let slope: number;
    if (form[i] === HAZEN_WILLIAMS) {
      const square = q * q + STILL_FLOW_M3S * STILL_FLOW_M3S;
      const chord = r * Math.exp(0.426 * Math.log(square));
      loss = chord * q;
      slope = chord * (1 + (0.852 * q * q) / square);
    } else {
      const reynolds = q * reynoldsPerFlow[i]!;
      if (reynolds <= LAMINAR_LIMIT_RE) {
        slope = (r * 64) / reynoldsPerFlow[i]!;
        loss = slope * q;
      } else {
        const at = row[i]!;
        let factor: number;
        let reFactorSlope: number;
        if (reynolds < TURBULENT_LIMIT_RE) {
          const t = reynolds / LAMINAR_LIMIT_RE - 1;
          const b = table[at + 2]!;
          const c = table[at + 3]!;
          const d = table[at + 4]!;
          factor = table[at + 1]! + t * (b + t * (c + t * d));
          reFactorSlope = (t + 1) * (b + t * (2 * c + 3 * t * d));
        } else {
          const turbulent =
            form[i] === BLASIUS ? blasiusFactor(reynolds) : swameeJainFactor(reynolds, table[at]!);
          factor = turbulent.factor;
          reFactorSlope = turbulent.slope * reynolds;
        }
        loss = r * factor * q * q;
        slope = r * q * (2 * factor + reFactorSlope);
      }
    }
    const localSlope = local[i]! * q;
    loss += localSlope * q;
    slope += 2 * localSlope;
    lossM[i] = signed < 0 ? -loss : loss;
    gradient[i] = slope;
  }
}

/**
 * Head lost along one run of pipe, friction and local losses together.
 *
 * @param flowM3s signed; the head lost has the same sign, 0 at no flow
 * @returns m of head
 * Range and sources: as for `evaluatePipes`. Fails: throws where an argument is not finite or a size not positive.
 */
export function frictionHeadM(
  run: PipeRun,
  flowM3s: number,
  kinematicViscosityM2s: number,
  constants: HydraulicConstants = STANDARD_CONSTANTS,
): number {
  if (!(Number.isFinite(flowM3s) && run.lengthM > 0 && run.insideDiameterM > 0 && kinematicViscosityM2s > 0))
    throw new Error('frictionHeadM needs a finite flow and positive length, bore and viscosity');
  const loss = new Float64Array(1);
  evaluatePipes(
    compilePipes([run], kinematicViscosityM2s, constants),
    Float64Array.of(flowM3s),
    loss,
    new Float64Array(1),
  );
  return loss[0]!;
}

/** Friction factor of Darcy-Weisbach at any Reynolds number above 0: laminar, blended or turbulent, as the solver uses it. */
export function frictionFactor(
  reynolds: number,
  relativeRoughness: number,
  turbulent: 'swamee-jain' | 'blasius',
): number {
  if (reynolds <= LAMINAR_LIMIT_RE) return 64 / reynolds;
  const lawAt = (re: number): FactorAt =>
    turbulent === 'blasius' ? blasiusFactor(re) : swameeJainFactor(re, relativeRoughness);
  if (reynolds >= TURBULENT_LIMIT_RE) return lawAt(reynolds).factor;
  const [a, b, c, d] = blendCoefficients(lawAt(TURBULENT_LIMIT_RE));
  const t = reynolds / LAMINAR_LIMIT_RE - 1;
  return a! + t * (b! + t * (c! + t * d!));
}
