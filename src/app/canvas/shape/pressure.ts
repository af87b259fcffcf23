import type { Design } from '../../../core/design';
import { HEAD_M_PER_KPA, HEAD_M_PER_PSI, type UnitSystem } from '../../../core/units';

/** Six classes of pressure, lowest first; class i lies between bound i and bound i + 1. */
export interface PressureRamp {
  /** Seven bounds, ascending, m of head. */
  readonly boundsHeadM: readonly number[];
  readonly lowestHeadM: number;
  readonly lowestRunId: string;
}

export const CLASSES = 6;
/** Steps a person reads easily, in the printed unit. */
const EASY_STEPS: Readonly<Record<UnitSystem, readonly number[]>> = {
  us: [0.1, 0.2, 0.5, 1, 2, 5, 10, 20],
  metric: [1, 2, 5, 10, 20, 50, 100],
};

/** Bounds on whole steps of the printed unit that hold every emitter; null before any zone is solved. */
export function pressureRamp(design: Design, system: UnitSystem): PressureRamp | null {
  const zones = design.supply.zones.filter((zone) => zone.emitters.headM.length > 0);
  const worst = zones.reduce<(typeof zones)[number] | null>(
    (low, zone) => (low === null || zone.emitterHeadM.min < low.emitterHeadM.min ? zone : low),
    null,
  );
  if (worst === null) return null;
  const unitM = system === 'us' ? HEAD_M_PER_PSI : HEAD_M_PER_KPA;
  const low = worst.emitterHeadM.min / unitM;
  const high = Math.max(...zones.map((zone) => zone.emitterHeadM.max)) / unitM;
  const steps = EASY_STEPS[system];
  const step =
    steps.find((one) => Math.floor(low / one) * one + CLASSES * one >= high) ?? (high - low) / CLASSES;
  const first = Math.floor(low / step) * step;
  return {
    boundsHeadM: Array.from({ length: CLASSES + 1 }, (_, index) => (first + index * step) * unitM),
    lowestHeadM: worst.emitterHeadM.min,
    lowestRunId: worst.worstEmitter.runId,
  };
}

/** Class of a pressure, 0 to 5; what lies outside the bounds takes the nearest class. */
export function classOf(ramp: PressureRamp, headM: number): number {
  const first = ramp.boundsHeadM[0] ?? 0;
  const last = ramp.boundsHeadM[CLASSES] ?? 1;
  const place = Math.floor(((headM - first) / (last - first)) * CLASSES);
  return Math.min(CLASSES - 1, Math.max(0, place));
}
