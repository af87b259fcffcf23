import {
  type Box,
  boxOf,
  boxOfAll,
  boxRing,
  inflateRings,
  intersectRings,
  nestRings,
  pointInRing,
  type Region,
  type Ring,
  ringAreaM2,
  signedRingAreaM2,
  subtractRings,
  uniteRings,
} from '../../geometry';

/** A piece of an even band: two rows with the ground between them. Only its outline matters; obstacles inside are passed on both sides. */
export interface Tooth {
  readonly index: number;
  readonly band: number;
  readonly outer: Ring;
  readonly box: Box;
}

/** A piece of an odd band: ground between an upper and a lower tooth. */
export interface Gap {
  readonly band: number;
  readonly region: Region;
  readonly box: Box;
}

/** Teeth and gaps of a ground whose rows run along x. */
export interface Comb {
  readonly levels: readonly number[];
  readonly teeth: readonly Tooth[];
  readonly gaps: readonly Gap[];
  /** The ground with those holes filled that a row bulges round. */
  readonly ground: Region;
}

/** Necks thinner than this share of the least separation are cut: two runs could not pass through. */
const NECK_RATIO = 0.96;

/**
 * Cuts the ground into bands at the levels: even bands are teeth, odd bands gaps. Necks too thin for two runs are cut,
 * and a hole that only nicks a gap joins its tooth, so that the row bulges round it.
 */
export function cutComb(ground: Region, levels: readonly number[], minSeparationM: number): Comb {
  const box = boxOfAll(ground)!;
  const bulges: Ring[] = [];
  const rest: Ring[] = [];
  for (const ring of ground) {
    if (signedRingAreaM2(ring) < 0 && nicksOnly(boxOf(ring)!, levels, minSeparationM)) bulges.push(ring);
    else rest.push(ring);
  }
  const filled = bulges.map((ring) => [...ring].reverse());
  const bandRings = (parity: number): Ring[] =>
    levels
      .slice(0, -1)
      .map((minY, band) => ({ minX: box.minX - 1, maxX: box.maxX + 1, minY, maxY: levels[band + 1]! }))
      .filter((_, band) => band % 2 === parity)
      .map(boxRing);
  const toothGround = uniteRings([...intersectRings(rest, bandRings(0)), ...filled]);
  const gapGround = intersectRings(ground, bandRings(1));
  const gaps = nestRings(filled.length > 0 ? subtractRings(gapGround, filled) : gapGround)
    .filter((part) => ringAreaM2(part.outer) > 0.025 * minSeparationM ** 2)
    .map((part) => ({ region: [part.outer, ...part.holes], box: boxOf(part.outer)! }))
    .map(({ region, box: gapBox }) => ({ region, box: gapBox, band: bandOf(gapBox, levels) }));
  const teeth = cutNecks(toothGround, minSeparationM)
    .filter((outer) => ringAreaM2(outer) > 0.4 * minSeparationM ** 2)
    .map((outer) => ({ outer, box: boxOf(outer)! }))
    .map(({ outer, box: toothBox }) => ({ outer, box: toothBox, band: bandOf(toothBox, levels) }))
    .sort((one, other) => one.band - other.band || one.box.minX - other.box.minX)
    .map((tooth, index) => ({ index, ...tooth }));
  return { levels, teeth, gaps, ground: rest };
}

/** Does a hole lie in a tooth but for a nick that leaves room for another run in the gap beyond? */
function nicksOnly(hole: Box, levels: readonly number[], minSeparationM: number): boolean {
  const middle = bandAt((hole.minY + hole.maxY) / 2, levels);
  if (middle % 2 === 1) return false;
  const below = levels[middle]! - hole.minY;
  const above = hole.maxY - levels[middle + 1]!;
  if (below <= 0 && above <= 0) return false;
  const roomBelow = middle > 0 ? levels[middle]! - levels[middle - 1]! - minSeparationM : 0;
  const roomAbove =
    middle + 2 < levels.length ? levels[middle + 2]! - levels[middle + 1]! - minSeparationM : 0;
  return below <= roomBelow && above <= roomAbove;
}

/** The band a height lies in. */
export function bandAt(y: number, levels: readonly number[]): number {
  let low = 0;
  let high = levels.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (levels[middle]! <= y) low = middle;
    else high = middle - 1;
  }
  return low;
}

const bandOf = (box: Box, levels: readonly number[]): number => bandAt((box.minY + box.maxY) / 2, levels);

/** Outlines of the teeth with their necks cut: where a tooth falls apart when shrunk, it is laid as several, kept apart. */
function cutNecks(toothGround: Region, minSeparationM: number): Ring[] {
  const whole = nestRings(toothGround).map((part) => part.outer);
  const shrinkM = (NECK_RATIO * minSeparationM) / 2;
  const cores = nestRings(inflateRings(whole, -shrinkM, 'miter')).map((part) => part.outer);
  const boxes = whole.map((ring) => boxOf(ring)!);
  const coresOf: Ring[][] = whole.map(() => []);
  for (const core of cores) {
    const point = core[0]!;
    const owner = whole.findIndex(
      (ring, index) =>
        point.y > boxes[index]!.minY &&
        point.y < boxes[index]!.maxY &&
        point.x > boxes[index]!.minX &&
        point.x < boxes[index]!.maxX &&
        pointInRing(point, ring),
    );
    coresOf[owner]?.push(core);
  }
  return whole.flatMap((tooth, index) => {
    const inside = coresOf[index]!;
    return inside.length < 2 ? [tooth] : takeApart(tooth, inside, shrinkM, minSeparationM);
  });
}

/** The pieces a tooth falls into: each core grown back, with the tips that touch no other piece; later pieces keep their distance. */
function takeApart(tooth: Ring, cores: readonly Ring[], shrinkM: number, minSeparationM: number): Ring[] {
  const grown = cores.map((core) => intersectRings(inflateRings([core], shrinkM, 'miter'), [tooth]));
  const rest = nestRings(subtractRings([tooth], grown.flat())).map((part) => part.outer);
  const touchM = 1e-3;
  const tips: Ring[][] = cores.map(() => []);
  for (const piece of rest) {
    const around = inflateRings([piece], touchM, 'miter');
    const touched = grown.flatMap((region, index) =>
      intersectRings(around, region).length > 0 ? [index] : [],
    );
    if (touched.length === 1) tips[touched[0]!]!.push(...around);
  }
  const pieces = grown
    .map((region, index) => intersectRings(uniteRings([...region, ...tips[index]!]), [tooth]))
    .map((region) => largest(region))
    .filter((ring) => ring !== null)
    .sort((one, other) => ringAreaM2(other) - ringAreaM2(one));
  const kept: Ring[] = [];
  for (const piece of pieces) {
    const apart = kept.length > 0 ? subtractRings([piece], inflateRings(kept, minSeparationM)) : [piece];
    const left = largest(apart);
    if (left) kept.push(left);
  }
  return kept;
}

/** The ring of most ground; null where there is none. */
export function largest(region: Region): Ring | null {
  let best: Ring | null = null;
  let bestM2 = 0;
  for (const ring of region) {
    const areaM2 = signedRingAreaM2(ring);
    if (areaM2 > bestM2) {
      best = ring;
      bestM2 = areaM2;
    }
  }
  return best;
}
