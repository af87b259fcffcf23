import type { PlantNeed, SoilClass } from '../plan';
import { M3S_PER_GPH, METRES_PER_INCH } from '../units';
import { type SoilGroup, soilOf } from './soils';

/** What the trade lays on a soil: the wanted figures and the band they may move in. */
export interface DriplineTarget {
  readonly emitterFlowM3s: number;
  readonly flowBandM3s: readonly [number, number];
  readonly emitterSpacingM: number;
  readonly rowSpacingM: number;
  readonly rowBandM: readonly [number, number];
  /** How long a run wets the ground for judging its spread. */
  readonly wettingTimeS: number;
}

const target = (
  gph: number,
  gphBand: readonly [number, number],
  emitterIn: number,
  rowIn: number,
  rowBandIn: readonly [number, number],
  hours: number,
): DriplineTarget => ({
  emitterFlowM3s: gph * M3S_PER_GPH,
  flowBandM3s: [gphBand[0] * M3S_PER_GPH, gphBand[1] * M3S_PER_GPH],
  emitterSpacingM: emitterIn * METRES_PER_INCH,
  rowSpacingM: rowIn * METRES_PER_INCH,
  rowBandM: [rowBandIn[0] * METRES_PER_INCH, rowBandIn[1] * METRES_PER_INCH],
  wettingTimeS: hours * 3600,
});

/**
 * Common practice, no source: loam 0.4 gph, 12 in, rows 18 in; sand a higher flow, closer emitters and rows, since water
 * falls faster than it spreads; clay a lower flow and wider, since it spreads further than it sinks.
 * The running times for judging the spread (1, 2, 3 h) are ours, stated.
 */
export const DRIPLINE_TARGETS: Readonly<Record<SoilGroup, DriplineTarget>> = {
  sand: target(0.6, [0.6, 1], 9, 12, [12, 16], 1),
  loam: target(0.4, [0.4, 0.6], 12, 18, [16, 20], 2),
  clay: target(0.26, [0.26, 0.4], 18, 20, [18, 24], 3),
};

/** The trade's figures for a texture class. */
export function driplineTarget(soilClass: SoilClass): DriplineTarget {
  return DRIPLINE_TARGETS[soilOf(soilClass).group];
}

/**
 * Row spacing for a soil and a plant class (m): plants of high need take the close end of the soil's band, of very low
 * need the wide end, the others the middle figure. Common practice, no source.
 */
export function rowSpacingFor(soilClass: SoilClass, need: PlantNeed): number {
  const wanted = driplineTarget(soilClass);
  if (need === 'high') return wanted.rowBandM[0];
  if (need === 'very-low') return wanted.rowBandM[1];
  return wanted.rowSpacingM;
}
