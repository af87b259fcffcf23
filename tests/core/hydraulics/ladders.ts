import type { EmitterLaw } from '../../../src/core/catalog';
import type { FrictionLaw, Network, NetworkLink, NetworkNode } from '../../../src/core/hydraulics';

/** Networks drawn for tests: a trunk of pipe with loops of tubing on it. */
export interface TestNetworkSpec {
  readonly loops: readonly {
    readonly emitters: number;
    readonly spacingM: number;
    /** Rise of the far end over the stub-up, m. */
    readonly riseM: number;
    readonly isClosed: boolean;
  }[];
  readonly sourceHeadM: number;
  readonly trunkLengthM: number;
  readonly emitter: EmitterLaw;
  readonly tubing: FrictionLaw;
  readonly trunk: FrictionLaw;
  readonly emitterLossK: number;
}

export const smoothTubing: FrictionLaw = {
  kind: 'darcy-weisbach',
  absoluteRoughnessM: 1.5e-6,
  turbulent: 'swamee-jain',
};
export const hazen = (c: number): FrictionLaw => ({ kind: 'hazen-williams', c });

/** 1.6 L/h at 10 m, x = 0.5. */
export const orificeDripper: Extract<EmitterLaw, { kind: 'power' }> = {
  kind: 'power',
  nominalFlowM3s: 1.6e-3 / 3600,
  nominalHeadM: 10,
  exponent: 0.5,
  variationCv: 0.03,
  minHeadM: 3,
  maxHeadM: 40,
};

/** 1.6 L/h from 7 m to 42 m. */
export const compensatingDripper: Extract<EmitterLaw, { kind: 'compensating' }> = {
  kind: 'compensating',
  nominalFlowM3s: 1.6e-3 / 3600,
  thresholdHeadM: 7,
  belowExponent: 0.5,
  plateauSlopePerM: 0,
  maxHeadM: 42,
  variationCv: 0.03,
  minHeadM: 7,
};

export function testNetwork(spec: TestNetworkSpec): Network {
  const nodes: NetworkNode[] = [{ id: 'source', elevationM: 0, fixedHeadM: spec.sourceHeadM }];
  const links: NetworkLink[] = [];
  const pipe = (from: string, to: string, lengthM: number, boreM: number, isTubing: boolean, lossK = 0) => {
    links.push({
      kind: 'pipe',
      id: `pipe-${links.length}`,
      from,
      to,
      lengthM,
      insideDiameterM: boreM,
      friction: isTubing ? spec.tubing : spec.trunk,
      lossK,
    });
  };
  let before = 'source';
  spec.loops.forEach((loop, k) => {
    const tee = `tee-${k}`;
    nodes.push({ id: tee, elevationM: 0 });
    pipe(before, tee, spec.trunkLengthM, 0.0266, false);
    before = tee;
    let last = tee;
    for (let i = 1; i <= loop.emitters; i++) {
      const share = i / (loop.emitters + 1);
      const away = loop.isClosed ? 2 * Math.min(share, 1 - share) : share;
      const id = `e-${k}-${i}`;
      nodes.push({ id, elevationM: loop.riseM * away, emitter: spec.emitter });
      pipe(last, id, loop.spacingM, 0.0145, true, spec.emitterLossK);
      last = id;
    }
    if (loop.isClosed) pipe(last, tee, loop.spacingM, 0.0145, true, spec.emitterLossK);
  });
  return { nodes, links, kinematicViscosityM2s: 1.004e-6 };
}
