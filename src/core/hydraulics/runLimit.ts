import type { Dripline } from '../catalog';
import type { Traced } from '../units';
import { emitterRange } from './emitters';
import { emissionUniformity } from './measures';
import { runNetwork } from './run';
import { solveNetwork } from './solve';
import { waterViscosityM2s } from './water';

/** What the longest run is asked for. */
export interface RunLimitInput {
  readonly dripline: Dripline;
  /** Pressure head at the stub-up, m. */
  readonly inletHeadM: number;
  /** Rise over run going away from the stub-up; negative downhill. */
  readonly slopeRatio: number;
  /** Emission uniformity wanted, 0.9 = 90 %. */
  readonly uniformityRatio: number;
  readonly shape: 'single' | 'loop';
  /** Fastest flow wanted in the tube; absent: no limit. */
  readonly velocityLimitMs?: number;
  /** Nothing longer than this is asked for; absent: 1 000 m. */
  readonly longestM?: number;
  /** Absent: water at 20 C. */
  readonly kinematicViscosityM2s?: number;
}

/** What stops a longer run: evenness, an emitter outside its range, the velocity limit, or only the question. */
export type RunLimitReason = 'uniformity' | 'pressure' | 'velocity' | 'longest-asked';

/** The longest run, with what ends it. */
export interface RunLimit {
  /** Whole tube, both legs of a loop; 0 where the inlet cannot serve even one emitter. */
  readonly lengthM: number;
  readonly emitterCount: number;
  /** What stops a longer run. */
  readonly limitedBy: RunLimitReason;
  /** Emission uniformity at that length, manufacturing variation included. */
  readonly uniformityRatio: number;
  /**
   * The emitters as made vary more than the wanted uniformity allows at any length; only the hydraulic part
   * (qmin / qmean) was held to the wanted ratio.
   */
  readonly isVariationTooWide: boolean;
  readonly traces: readonly Traced[];
}

/**
 * The longest run that holds the wanted uniformity with every emitter inside its working range, found by solving runs
 * and not from a chart. On a downhill run the first length that fails ends the search.
 *
 * Source: EU of Keller and Karmeli (1974) on the solved flows; range of the emitter as catalogued.
 */
export function runLimitM(input: RunLimitInput): RunLimit {
  const { dripline } = input;
  const spacingM = dripline.emitterSpacingM;
  const most = Math.max(1, Math.floor((input.longestM ?? 1000) / spacingM + 1e-9));
  const isVariationTooWide = 1 - 1.27 * dripline.emitter.variationCv < input.uniformityRatio;
  const failure = (count: number) => trialRun(input, count, isVariationTooWide);
  let holds = 0;
  let fails = 1;
  let reason: RunLimitReason | null = failure(1).reason;
  while (reason === null && fails < most) {
    holds = fails;
    fails = Math.min(most, fails * 2);
    reason = failure(fails).reason;
  }
  if (reason === null) {
    holds = fails;
    reason = 'longest-asked';
  } else
    while (fails - holds > 1) {
      const middle = (fails + holds) >> 1;
      const found = failure(middle).reason;
      if (found === null) holds = middle;
      else {
        fails = middle;
        reason = found;
      }
    }
  const lengthM = holds * spacingM;
  const uniformityRatio = holds > 0 ? failure(holds).uniformityRatio : 0;
  return {
    lengthM,
    emitterCount: holds,
    limitedBy: reason,
    uniformityRatio,
    isVariationTooWide,
    traces: [trace(input, lengthM, uniformityRatio)],
  };
}

function trialRun(input: RunLimitInput, emitterCount: number, isVariationTooWide: boolean) {
  const { dripline, inletHeadM, slopeRatio, shape } = input;
  const network = runNetwork({
    dripline,
    shape,
    emitterCount,
    inletHeadM,
    slopeRatio,
    kinematicViscosityM2s: input.kinematicViscosityM2s ?? waterViscosityM2s(293.15),
  });
  const solution = solveNetwork(network);
  const flows = solution.outflowM3s.subarray(1);
  const uniformityRatio = emissionUniformity(flows, dripline.emitter.variationCv);
  const held = isVariationTooWide ? emissionUniformity(flows, 0) : uniformityRatio;
  let reason: RunLimitReason | null = held < input.uniformityRatio ? 'uniformity' : null;
  if (solution.velocityMs.some((velocity) => velocity > (input.velocityLimitMs ?? Number.POSITIVE_INFINITY)))
    reason = 'velocity';
  const isOutOfRange = network.nodes.some(
    (node, i) =>
      node.emitter !== undefined &&
      emitterRange(node.emitter, solution.headM[i]! - node.elevationM) !== 'within',
  );
  if (isOutOfRange || solution.status !== 'settled') reason = 'pressure';
  return { reason, uniformityRatio };
}

function trace(input: RunLimitInput, lengthM: number, uniformityRatio: number): Traced {
  const { dripline } = input;
  return {
    code: 'hydraulics.run-limit',
    result: { value: lengthM, unit: 'm' },
    formula:
      'longest run with (1 - 1.27 Cv) qmin / qmean >= wanted and every emitter in range, each length solved',
    inputs: [
      { name: 'inlet head', quantity: { value: input.inletHeadM, unit: 'm of head' } },
      { name: 'slope', quantity: { value: input.slopeRatio, unit: 'ratio' } },
      { name: 'wanted', quantity: { value: input.uniformityRatio, unit: 'ratio' } },
      { name: 'reached', quantity: { value: uniformityRatio, unit: 'ratio' } },
      { name: 'emitter flow', quantity: { value: dripline.emitterFlowM3s, unit: 'm3/s' }, from: dripline.id },
      {
        name: 'emitter spacing',
        quantity: { value: dripline.emitterSpacingM, unit: 'm' },
        from: dripline.id,
      },
      { name: 'bore', quantity: { value: dripline.insideDiameterM, unit: 'm' }, from: dripline.id },
      { name: 'Cv', quantity: { value: dripline.emitter.variationCv, unit: 'ratio' }, from: dripline.id },
    ],
    source: { text: 'Keller and Karmeli (1974), on solved flows', standing: 'published' },
  };
}
