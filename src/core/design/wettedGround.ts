import { type PlanPoint, pointsAlong } from '../geometry';
import { type WettedOverlap, wettedOverlap } from '../soilwater';
import type { DesignedBed } from './types';

/** Wetted ground of one bed, ready to be drawn on its plan: a circle round every emitter, and the pairs that may stay dry. */
export interface WettedGround {
  readonly bedId: string;
  /** Every emitter of the laid route, run by run. */
  readonly emitters: readonly PlanPoint[];
  /** By the model that wets less, and by the one that wets more; gaps are taken at the worst emitter phase. */
  readonly narrow: WettedOverlap;
  readonly wide: WettedOverlap;
}

/**
 * What of a bed's ground is wetted on the route as laid, by both wetting models: a range, because models and soils differ.
 * At the worst emitter phase, which nobody can choose in one continuous loop.
 *
 * @returns null where the bed holds no emitter
 */
export function wettedGround(bed: DesignedBed): WettedGround | null {
  const { choice, layout } = bed;
  const runs = layout.runs.filter(({ emittersM }) => emittersM.length > 0);
  if (runs.length === 0) return null;
  const places = runs.map(({ path, emittersM }) => pointsAlong(path, emittersM).map(({ at }) => at));
  const emitters = places.flat();
  const laid = {
    x: emitters.map(({ x }) => x),
    y: emitters.map(({ y }) => y),
    run: places.flatMap((own, index) => own.map(() => index)),
  };
  const at = (wettedDiameterM: number): WettedOverlap =>
    wettedOverlap({
      emitters: laid,
      wettedDiameterM,
      rowSpacingM: layout.rowSpacingM,
      emitterSpacingM: choice.dripline.emitterSpacingM,
    });
  return {
    bedId: bed.id,
    emitters,
    narrow: at(choice.wettedDiameterM.low),
    wide: at(choice.wettedDiameterM.high),
  };
}
