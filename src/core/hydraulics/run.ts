import type { Dripline, Pipe } from '../catalog';
import type { FrictionLaw, Network, NetworkLink, NetworkNode } from './types';

/**
 * How friction is computed in a part: Darcy-Weisbach with Swamee-Jain in tubing and wherever the part asks for it,
 * Hazen-Williams where it asks for that. Hazen-Williams misstates the slow far end of a run.
 */
export function frictionLawOf(part: Dripline | Pipe): FrictionLaw {
  if (part.kind === 'pipe' && part.friction === 'hazen-williams')
    return { kind: 'hazen-williams', c: part.hazenWilliamsC };
  return {
    kind: 'darcy-weisbach',
    absoluteRoughnessM: part.absoluteRoughnessM,
    turbulent: 'swamee-jain',
  };
}

/** A run of dripline on its own: a dead end, or a loop that comes back to its stub-up. */
export interface RunSpec {
  readonly dripline: Dripline;
  readonly shape: 'single' | 'loop';
  readonly emitterCount: number;
  /** Pressure head at the stub-up. */
  readonly inletHeadM: number;
  /** Rise over run going away from the stub-up; a loop goes out and comes back. */
  readonly slopeRatio: number;
  readonly kinematicViscosityM2s: number;
}

/**
 * The network of one run: emitters at even spacing, the first half a spacing from the stub-up, each with its local loss
 * on the length before it.
 */
export function runNetwork(spec: RunSpec): Network {
  const { dripline, shape, emitterCount, inletHeadM, slopeRatio } = spec;
  const spacingM = dripline.emitterSpacingM;
  const totalM = emitterCount * spacingM;
  const friction = frictionLawOf(dripline);
  const nodes: NetworkNode[] = [{ id: 'stub-up', elevationM: 0, fixedHeadM: inletHeadM }];
  const links: NetworkLink[] = [];
  let before = 'stub-up';
  const lay = (to: string, lengthM: number, lossK: number) => {
    const id = `tube-${links.length + 1}`;
    const insideDiameterM = dripline.insideDiameterM;
    links.push({ kind: 'pipe', id, from: before, to, lengthM, insideDiameterM, friction, lossK });
    before = to;
  };
  for (let i = 0; i < emitterCount; i++) {
    const alongM = (i + 0.5) * spacingM;
    const awayM = shape === 'loop' ? Math.min(alongM, totalM - alongM) : alongM;
    const id = `emitter-${i + 1}`;
    nodes.push({ id, elevationM: slopeRatio * awayM, emitter: dripline.emitter });
    lay(id, i === 0 ? spacingM / 2 : spacingM, dripline.emitterLossK);
  }
  if (shape === 'loop') lay('stub-up', spacingM / 2, 0);
  return { nodes, links, kinematicViscosityM2s: spec.kinematicViscosityM2s };
}
