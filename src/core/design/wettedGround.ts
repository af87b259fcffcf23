import { distanceM, type PlanPoint, pointsAlong } from '../geometry';
import { type WettedOverlap, type WettedPair, wettedOverlap } from '../soilwater';
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

/** Neighbours are sought in beds of up to so many emitters: larger ones take seconds, and on paper are a blot. */
const MOST_EMITTERS = 4_000;

/** Is a bed small enough for what stays dry between neighbours to be sought and drawn? */
export const areNeighboursSought = ({ layout }: Pick<DesignedBed, 'layout'>): boolean =>
  layout.runs.reduce((sum, { emittersM }) => sum + emittersM.length, 0) <= MOST_EMITTERS;

/**
 * The ground between two neighbours that stays dry, as a line between the edges of their wetted circles as laid; a mark of
 * the least length, half way, where the circles meet as laid and only the worst shift parts them.
 */
export function dryBetween(
  { from, to }: Pick<WettedPair, 'from' | 'to'>,
  wettedDiameterM: number,
  leastM: number,
): readonly [PlanPoint, PlanPoint] {
  const lengthM = distanceM(from, to) || 1;
  const dryM = Math.max(lengthM - wettedDiameterM, leastM);
  const at = (alongM: number): PlanPoint => ({
    x: from.x + ((to.x - from.x) / lengthM) * alongM,
    y: from.y + ((to.y - from.y) / lengthM) * alongM,
  });
  return [at((lengthM - dryM) / 2), at((lengthM + dryM) / 2)];
}
