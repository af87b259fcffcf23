/** States of a link as the solver numbers them. */
export const OPEN = 0;
/** A regulator holding its setting. */
export const ACTIVE = 1;
/** No flow, whatever the heads. */
export const CLOSED = 2;

/** Flows, heads and states while the solver works, in solver order. */
export interface Work {
  readonly headM: Float64Array;
  readonly flowM3s: Float64Array;
  readonly state: Uint8Array;
  /** Links shut by hand, and those that only such lead to: no head opens them. */
  readonly isShut: Uint8Array;
  readonly lossM: Float64Array;
  readonly gradient: Float64Array;
  readonly expected: Float64Array;
  readonly emitterFlow: Float64Array;
  readonly emitterSlope: Float64Array;
  /** What each emitter would give by its tangent after the step. */
  readonly expectedFlow: Float64Array;
  readonly diagonal: Float64Array;
  readonly lower: Float64Array;
  readonly step: Float64Array;
}

/** The room kept for the next solve of the same topology. */
export interface Scratch {
  work: Work | null;
}

/** Room to work in. It is kept in the scratch and used again; results are copied out of it. */
export function layOutWork(
  scratch: Scratch,
  nodeCount: number,
  linkCount: number,
  entryCount: number,
  emitterCount: number,
): Work {
  if (scratch.work !== null && scratch.work.emitterFlow.length >= emitterCount) return scratch.work;
  scratch.work = {
    headM: new Float64Array(nodeCount),
    flowM3s: new Float64Array(linkCount),
    state: new Uint8Array(linkCount),
    isShut: new Uint8Array(linkCount),
    lossM: new Float64Array(linkCount),
    gradient: new Float64Array(linkCount),
    expected: new Float64Array(linkCount),
    emitterFlow: new Float64Array(emitterCount),
    emitterSlope: new Float64Array(emitterCount),
    expectedFlow: new Float64Array(emitterCount),
    diagonal: new Float64Array(nodeCount),
    lower: new Float64Array(entryCount),
    step: new Float64Array(nodeCount),
  };
  return scratch.work;
}
