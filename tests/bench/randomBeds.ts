import type { BedRing, EdgeClass, LayoutInput } from '../../src/core/layout';
import { type BedFile, plainInput } from './bedFiles';

const INCH_M = 0.0254;
const SPACINGS_IN = [12, 15, 18, 24] as const;
const CLASSES: readonly EdgeClass[] = ['paving', 'lawn', 'boundary', 'foundation', 'open'];
const OFFSET_M: Readonly<Record<EdgeClass, number>> = {
  open: 3 * INCH_M,
  paving: 3 * INCH_M,
  lawn: 3 * INCH_M,
  boundary: 4 * INCH_M,
  obstacle: 6 * INCH_M,
  foundation: 12 * INCH_M,
};

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Numbers in [0, 1) from a seed: the 32-bit mixing generator of splitmix, the same on every machine. */
export function seededNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = state ^ (state >>> 16);
    mixed = Math.imul(mixed, 0x21f0aaad);
    mixed ^= mixed >>> 15;
    mixed = Math.imul(mixed, 0x735a2d97);
    mixed ^= mixed >>> 15;
    return (mixed >>> 0) / 4294967296;
  };
}

type Family = (random: () => number, sizeM: number) => Point[];

const at = (x: number, y: number): Point => ({ x, y });

/** Corners on a stretched circle at rising angles: always convex. */
const convex: Family = (random, sizeM) => {
  const count = 3 + Math.floor(random() * 6);
  const angles = Array.from({ length: count }, (_, i) => (2 * Math.PI * (i + 0.6 * random())) / count);
  const flat = 0.4 + 0.6 * random();
  return angles.map((angle) => at(sizeM * Math.cos(angle), sizeM * flat * Math.sin(angle)));
};

/** An L, T, U or Z of straight walls. */
const walled: Family = (random, sizeM) => {
  const w = sizeM * (1.2 + random());
  const h = sizeM * (0.8 + random());
  const a = w * (0.3 + 0.3 * random());
  const b = h * (0.3 + 0.3 * random());
  const kind = Math.floor(random() * 4);
  if (kind === 0) return [at(0, 0), at(w, 0), at(w, b), at(a, b), at(a, h), at(0, h)];
  if (kind === 1) {
    const left = (w - a) / 2;
    return [
      at(left, 0),
      at(left + a, 0),
      at(left + a, h - b),
      at(w, h - b),
      at(w, h),
      at(0, h),
      at(0, h - b),
      at(left, h - b),
    ];
  }
  if (kind === 2) {
    const side = (w - a) / 2;
    return [
      at(0, 0),
      at(w, 0),
      at(w, h),
      at(w - side, h),
      at(w - side, b),
      at(side, b),
      at(side, h),
      at(0, h),
    ];
  }
  return [at(0, 0), at(w - a, 0), at(w - a, h - b), at(w, h - b), at(w, h), at(a, h), at(a, b), at(0, b)];
};

/** A blob: a circle with a few waves on it. */
const organic: Family = (random, sizeM) => {
  const waves = [2, 3, 4, 5].map((times) => ({
    times,
    height: (0.5 * (random() - 0.5)) / times,
    phase: 6.28 * random(),
  }));
  const count = 50 + Math.floor(random() * 100);
  return Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    const radius =
      waves.reduce((sum, wave) => sum + wave.height * Math.sin(wave.times * angle + wave.phase), 1) * sizeM;
    return at(1.3 * radius * Math.cos(angle), radius * Math.sin(angle));
  });
};

/** A star-shaped outline of sharp corners. */
const jagged: Family = (random, sizeM) => {
  const count = 5 + Math.floor(random() * 8);
  return Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * (i + 0.7 * random())) / count;
    const radius = sizeM * (0.45 + 0.65 * random());
    return at(1.4 * radius * Math.cos(angle), radius * Math.sin(angle));
  });
};

/** A ribbon along a wavy line, its width swelling and shrinking. */
const ribbon: Family = (random, sizeM) => {
  const lengthM = 2.2 * sizeM;
  const widthM = 1 + 2.5 * random();
  const waveM = 1.1 * random();
  const perM = 0.2 + 0.6 * random();
  const middle = (x: number): number => waveM * Math.sin(perM * x);
  const steps = 40;
  const xs = Array.from({ length: steps + 1 }, (_, i) => (lengthM * i) / steps);
  const low = xs.map((x) => at(x, middle(x) - widthM / 2));
  const high = xs.map((x) => at(x, middle(x) + (widthM / 2) * (1 + 0.3 * Math.sin(0.7 * x)))).reverse();
  return [...low, ...high];
};

/** A long narrow strip: straight, bent once, or running to a point. */
const strip: Family = (random, sizeM) => {
  const lengthM = 3 * sizeM;
  const widthM = 0.45 + 1.1 * random();
  const kind = Math.floor(random() * 3);
  if (kind === 0) return [at(0, 0), at(lengthM, 0), at(lengthM, widthM), at(0, widthM)];
  if (kind === 1) return [at(0, 0), at(lengthM, 0), at(lengthM, 0.2 * widthM), at(0, 1.6 * widthM)];
  const bend = (random() - 0.5) * 1.4;
  const knee = lengthM / 2;
  const half = Math.tan(bend / 2) * widthM;
  const end = (along: number, across: number): Point =>
    at(
      knee + along * Math.cos(bend) - across * Math.sin(bend),
      along * Math.sin(bend) + across * Math.cos(bend),
    );
  return [at(0, 0), at(knee, 0), end(knee, 0), end(knee, widthM), at(knee - half, widthM), at(0, widthM)];
};

export const FAMILIES: Readonly<Record<string, Family>> = { convex, walled, organic, jagged, ribbon, strip };

/**
 * One random bed of a family: outline turned anywhere, classes on edges, up to five obstacles as holes. `sizeRatio` scales
 * outlines, not obstacles. Tubing bends to 5 in, or to this share of the row spacing where that is tighter.
 */
export function randomBed(
  seed: number,
  sizeRatio = 1,
  mostBendRatio = Number.POSITIVE_INFINITY,
): BedFile & { readonly family: string; readonly holes: number } {
  const random = seededNumbers(seed);
  const names = Object.keys(FAMILIES);
  const family = names[Math.floor(random() * names.length)]!;
  const drawn = FAMILIES[family]!(random, (2 + 5 * random()) * sizeRatio);
  const angle = random() < 0.3 ? 0 : 2 * Math.PI * random();
  const turn = (p: Point): Point =>
    at(
      Math.round((p.x * Math.cos(angle) - p.y * Math.sin(angle)) * 1e4) / 1e4,
      Math.round((p.x * Math.sin(angle) + p.y * Math.cos(angle)) * 1e4) / 1e4,
    );
  const isSmooth = family === 'organic' || family === 'ribbon';
  const oneClass = CLASSES[Math.floor(random() * 3)]!;
  const classOf = (): EdgeClass => (isSmooth ? oneClass : CLASSES[Math.floor(random() * CLASSES.length)]!);
  const outer: BedRing = ringOf(drawn.map(turn), classOf);
  const holeCount = family === 'strip' || random() < 0.45 ? 0 : 1 + Math.floor(random() * 5);
  const holes = holesIn(outer.points, holeCount, random);
  const spacing = SPACINGS_IN[Math.floor(random() * SPACINGS_IN.length)]!;
  const name = `random-${seed}`;
  const input: LayoutInput = {
    ...plainInput(name, [outer, ...holes]),
    rowSpacingM: spacing * INCH_M,
    bendRadiusM: Math.min(5, mostBendRatio * spacing) * INCH_M,
    wettedDiameterM: (spacing + 2) * INCH_M,
  };
  return { name, input, family, holes: holes.length };
}

/** One outline of a family at a size, all edges paving and no holes: for seeing how time grows with ground. */
export function scaledBed(family: string, seed: number, sizeM: number): BedFile {
  const name = `${family}-${sizeM}`;
  const points = FAMILIES[family]!(seededNumbers(seed), sizeM);
  return { name, input: plainInput(name, [ringOf(points, () => 'paving')]) };
}

function ringOf(points: readonly Point[], classOf: () => EdgeClass): BedRing {
  return {
    points,
    edges: points.map(() => {
      const edgeClass = classOf();
      return { class: edgeClass, offsetM: OFFSET_M[edgeClass] };
    }),
  };
}

/** Round boulders well inside the outline and apart from each other; fewer where there is no room. */
function holesIn(outer: readonly Point[], count: number, random: () => number): BedRing[] {
  const placed: { x: number; y: number; r: number }[] = [];
  const xs = outer.map((p) => p.x);
  const ys = outer.map((p) => p.y);
  const box = {
    x: Math.min(...xs),
    y: Math.min(...ys),
    w: Math.max(...xs) - Math.min(...xs),
    h: Math.max(...ys) - Math.min(...ys),
  };
  for (let tries = 0; tries < 40 && placed.length < count; tries += 1) {
    const hole = { x: box.x + box.w * random(), y: box.y + box.h * random(), r: 0.15 + 0.7 * random() };
    const isFree =
      isInside(hole, outer) &&
      outer.every((p) => Math.hypot(p.x - hole.x, p.y - hole.y) > hole.r + 0.3) &&
      sidesOf(outer).every(([a, b]) => awayFrom(hole, a, b) > hole.r + 0.3) &&
      placed.every((other) => Math.hypot(other.x - hole.x, other.y - hole.y) > other.r + hole.r + 0.5);
    if (isFree) placed.push(hole);
  }
  return placed.map((hole) => {
    const corners = Array.from({ length: 16 }, (_, i) =>
      at(hole.x + hole.r * Math.cos((-i * Math.PI) / 8), hole.y + hole.r * Math.sin((-i * Math.PI) / 8)),
    );
    return ringOf(corners, () => 'obstacle');
  });
}

const sidesOf = (ring: readonly Point[]): [Point, Point][] =>
  ring.map((a, i) => [a, ring[(i + 1) % ring.length]!]);

function awayFrom(p: Point, a: Point, b: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const t = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

function isInside(p: Point, ring: readonly Point[]): boolean {
  let inside = false;
  for (const [a, b] of sidesOf(ring))
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
  return inside;
}
