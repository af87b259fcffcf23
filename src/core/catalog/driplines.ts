import { HEAD_M_PER_PSI, M3S_PER_GPH, METRES_PER_FOOT, METRES_PER_INCH, type Source } from '../units';
import type { Dripline, EmitterLaw } from './types';

const TYPICAL: Source = {
  text: 'typical of 17 mm in-line emitter tubing, from memory; replace with the figures of the part on the job',
  standing: 'typical',
};
const FLOWS_GPH = [0.26, 0.4, 0.53, 0.6, 0.9] as const;
const SPACINGS_IN = [12, 18, 24] as const;

type Build = 'compensating' | 'compensating-check' | 'plain';
const BUILDS: readonly Build[] = ['compensating', 'compensating-check', 'plain'];
const SHORT: Readonly<Record<Build, string>> = {
  compensating: 'pc',
  'compensating-check': 'pc-check',
  plain: 'plain',
};
const NAME: Readonly<Record<Build, string>> = {
  compensating: 'Dripline, pressure compensating',
  'compensating-check': 'Dripline, pressure compensating, check valve in each emitter',
  plain: 'Dripline, not compensating',
};

/**
 * How one typical emitter answers to pressure. Compensating emitters hold their flow from about 10 psi (14.5 psi where a
 * check valve has to be held open) to 60 psi; plain turbulent-path emitters follow the square root of pressure and are
 * rated at 1 bar. Both Cv are 3 %.
 */
function emitterLaw(build: Build, nominalFlowM3s: number): EmitterLaw {
  if (build === 'plain') {
    return {
      kind: 'power',
      nominalFlowM3s,
      nominalHeadM: 14.5 * HEAD_M_PER_PSI,
      exponent: 0.5,
      variationCv: 0.03,
      minHeadM: 7 * HEAD_M_PER_PSI,
      maxHeadM: 30 * HEAD_M_PER_PSI,
    };
  }
  const thresholdHeadM = (build === 'compensating' ? 10 : 14.5) * HEAD_M_PER_PSI;
  return {
    kind: 'compensating',
    nominalFlowM3s,
    thresholdHeadM,
    belowExponent: 0.5,
    plateauSlopePerM: 0.001,
    maxHeadM: 60 * HEAD_M_PER_PSI,
    variationCv: 0.03,
    minHeadM: thresholdHeadM,
  };
}

function dripline(build: Build, flowGph: number, spacingIn: number): Dripline {
  const emitterFlowM3s = flowGph * M3S_PER_GPH;
  return {
    kind: 'dripline',
    id: `dripline-${SHORT[build]}-${flowGph}gph-${spacingIn}in`,
    name: NAME[build],
    source: TYPICAL,
    emitterFlowM3s,
    emitterSpacingM: spacingIn * METRES_PER_INCH,
    insideDiameterM: 0.57 * METRES_PER_INCH,
    outsideDiameterM: 0.67 * METRES_PER_INCH,
    minBendRadiusM: 5 * METRES_PER_INCH,
    emitter: emitterLaw(build, emitterFlowM3s),
    emitterLossK: 0.5,
    absoluteRoughnessM: 1.5e-6,
    rollLengthsM: [100, 250, 500, 1000].map((feet) => feet * METRES_PER_FOOT),
    checkValve: build === 'compensating-check',
    flushVelocityMs: METRES_PER_FOOT,
  };
}

/** Typical in-line emitter tubing: five flows, three spacings, compensating with and without check valve, and plain. */
export const TYPICAL_DRIPLINES: readonly Dripline[] = BUILDS.flatMap((build) =>
  FLOWS_GPH.flatMap((flow) => SPACINGS_IN.map((spacing) => dripline(build, flow, spacing))),
);
