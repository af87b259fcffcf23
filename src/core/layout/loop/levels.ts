import type { Region } from '../../geometry';

/** A row may be this much wider than asked: 3 %, 14 mm in 18 in, less than a crew keeps by eye. */
const SPACING_TOLERANCE_RATIO = 1.03;
/** Edges count as level where they rise less than this over their length (8 degrees). */
const LEVEL_RATIO = 0.14;
/** Downhill rows are wider by this, in this share of the slope (common practice, no source). */
const WIDER_DOWNHILL_RATIO = 1.25;
const DOWNHILL_SHARE = 1 / 3;

/** A long, nearly level edge that a row should follow. Ground lies above a floor and below a ceiling. */
export interface FixedLevel {
  readonly y: number;
  readonly kind: 'floor' | 'ceiling';
  /** Length of edge behind it, metres. */
  readonly weightM: number;
}

/** Long, nearly level edges of a ground whose rows run along x, heaviest first. Outer rings anticlockwise. */
export function findFixedLevels(ground: Region, spacingM: number): FixedLevel[] {
  const edges: FixedLevel[] = [];
  for (const ring of ground)
    ring.forEach((a, index) => {
      const b = ring[(index + 1) % ring.length]!;
      const lengthM = Math.hypot(b.x - a.x, b.y - a.y);
      if (lengthM > 2.2 * spacingM && Math.abs(b.y - a.y) < LEVEL_RATIO * lengthM)
        edges.push({ y: (a.y + b.y) / 2, kind: b.x > a.x ? 'floor' : 'ceiling', weightM: lengthM });
    });
  edges.sort((one, other) => other.weightM - one.weightM || one.y - other.y);
  const levels: FixedLevel[] = [];
  for (const edge of edges) {
    const same = levels.findIndex(
      (level) => level.kind === edge.kind && Math.abs(level.y - edge.y) < 0.3 * spacingM,
    );
    if (same < 0) levels.push(edge);
    else levels[same] = { ...levels[same]!, weightM: levels[same]!.weightM + edge.weightM };
  }
  return levels.sort((one, other) => other.weightM - one.weightM || one.y - other.y);
}

/** Which end of the rows' stack is downhill; null on flat ground. */
export type Downhill = 'low' | 'high' | null;

/**
 * Heights of the rows from the lowest to the highest: the ends and the fixed levels are met, between them rows are even
 * and no wider than `spacingM`. A line across a closed loop meets it an even number of times, so floors take an even place
 * and ceilings an odd one. Null where rows would come nearer than `minSeparationM`.
 */
export function layLevels(
  minY: number,
  maxY: number,
  fixed: readonly FixedLevel[],
  spacingM: number,
  minSeparationM: number,
  downhill: Downhill = null,
): number[] | null {
  const between = fixed.filter((level) => level.y > minY && level.y < maxY).sort((a, b) => a.y - b.y);
  const stops = [{ y: minY, kind: 'floor' }, ...between, { y: maxY, kind: 'ceiling' }];
  const levels = [minY];
  for (let index = 1; index < stops.length; index++) {
    const from = stops[index - 1]!;
    const to = stops[index]!;
    const steps = shareOut(from.y, to.y, minY, maxY, spacingM, downhill, from.kind !== to.kind);
    if (steps.some((step) => step < minSeparationM)) return null;
    let y = from.y;
    for (const step of steps.slice(0, -1)) {
      y += step;
      levels.push(y);
    }
    levels.push(to.y);
  }
  return levels.length % 2 === 0 ? levels : null;
}

/** Row distances that fill a height, none above the widest allowed where it lies; their count odd or even as asked. */
function shareOut(
  fromY: number,
  toY: number,
  minY: number,
  maxY: number,
  spacingM: number,
  downhill: Downhill,
  isOdd: boolean,
): number[] {
  // Shared out from the downhill end, so that a row more for an even count lies among the narrow ones.
  if (downhill === 'high') {
    const mirrored = (y: number): number => minY + maxY - y;
    return shareOut(mirrored(toY), mirrored(fromY), minY, maxY, spacingM, 'low', isOdd).reverse();
  }
  const wideRatioAt = (y: number): number =>
    downhill === 'low' && (y - minY) / (maxY - minY) < DOWNHILL_SHARE ? WIDER_DOWNHILL_RATIO : 1;
  const ratios: number[] = [];
  let y = fromY;
  while (
    y < toY - spacingM * (SPACING_TOLERANCE_RATIO - 1) * Math.max(1, ratios.length) ||
    ratios.length === 0
  ) {
    const ratio = wideRatioAt(y);
    ratios.push(ratio);
    y += ratio * spacingM;
  }
  if ((ratios.length % 2 === 1) !== isOdd) ratios.push(1);
  const total = ratios.reduce((sum, ratio) => sum + ratio, 0);
  return ratios.map((ratio) => ((toY - fromY) * ratio) / total);
}
