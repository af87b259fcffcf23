import {
  distanceM,
  distancesAlongM,
  type PlanPoint,
  type Polyline,
  pointBetween,
  SAME_POINT_M,
} from '../../geometry';

/** A step's line or arc stays this near to the route, metres: less than a crew can place tubing. */
const STRAY_M = 0.008;
/** Long edges are looked at this often, so that an arc cannot leave them between their ends. */
const LOOK_EVERY_M = 0.1;
/** More than about two thirds of a circle is told as two arcs: bow over chord. */
const WIDEST_BOW_RATIO = 0.75;
/** A flatter arc is a straight. */
const LEAST_BOW_M = 1e-5;
/** A straight is preferred where it reaches this share of what an arc would. */
const STRAIGHT_SHARE = 0.75;
/** An arc may be longer or shorter than the route it stands for by this much. */
const LENGTH_SLACK_M = 0.02;
/** A piece shorter than this is left out where its neighbours can take it over. */
const SCRAP_M = 0.4;
/** How far the place where two steps meet may be shifted for a smoother meeting. */
const SHIFT_M = 0.25;

/** A stretch of a route as one straight (`sweepRad` 0) or one arc, left positive. */
export interface ArcPiece {
  readonly fromM: number;
  readonly toM: number;
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  readonly sweepRad: number;
}

interface Traced {
  readonly points: readonly PlanPoint[];
  /** The same points as two rows of figures: they are gone through for every try of every piece. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly alongM: readonly number[];
}

/** The path with more points on its long edges, and one at every distance that must end a piece. */
function traced(path: Polyline, cutsM: readonly number[]): Traced {
  const distances = distancesAlongM(path);
  const points: PlanPoint[] = [];
  const alongM: number[] = [];
  let cut = 0;
  for (let i = 0; i + 1 < path.length; i++) {
    const [fromM, toM] = [distances[i]!, distances[i + 1]!];
    const lengthM = toM - fromM;
    if (lengthM <= 0) continue;
    const steps = Math.ceil(lengthM / LOOK_EVERY_M);
    const ownM = Array.from({ length: steps }, (_, k) => fromM + (lengthM * k) / steps);
    const cutM: number[] = [];
    while (cut < cutsM.length && cutsM[cut]! < toM) {
      if (cutsM[cut]! >= fromM && cutsM[cut] !== cutM.at(-1)) cutM.push(cutsM[cut]!);
      cut++;
    }
    const freeM = ownM.filter((m) => !cutM.some((c) => Math.abs(c - m) < SAME_POINT_M));
    for (const m of [...freeM, ...cutM].sort((a, b) => a - b)) {
      points.push(pointBetween(path[i]!, path[i + 1]!, (m - fromM) / lengthM));
      alongM.push(m);
    }
  }
  points.push(path[path.length - 1]!);
  alongM.push(distances[distances.length - 1]!);
  return {
    points,
    x: Float64Array.from(points, (p) => p.x),
    y: Float64Array.from(points, (p) => p.y),
    alongM,
  };
}

/** Whether the straight line between two points of the route keeps to it. */
function isStraight({ points, x, y }: Traced, i: number, j: number): boolean {
  const a = points[i]!;
  const b = points[j]!;
  const lengthM = distanceM(a, b);
  if (lengthM === 0) return false;
  const ux = (b.x - a.x) / lengthM;
  const uy = (b.y - a.y) / lengthM;
  for (let k = i + 1; k < j; k++) {
    const dx = x[k]! - a.x;
    const dy = y[k]! - a.y;
    const aside = dy * ux - dx * uy;
    if (aside > STRAY_M || aside < -STRAY_M) return false;
    const u = dx * ux + dy * uy;
    if (u < -STRAY_M || u > lengthM + STRAY_M) return false;
  }
  return true;
}

/** The circle of an arc by its two ends and its bow, left of the way positive. */
function circleOf(a: PlanPoint, b: PlanPoint, bowM: number) {
  const chordM = distanceM(a, b);
  const radiusM = (chordM * chordM) / (8 * Math.abs(bowM)) + Math.abs(bowM) / 2;
  const [ux, uy] = [(b.x - a.x) / chordM, (b.y - a.y) / chordM];
  // An arc to the left bulges to the right of its chord.
  const outM = Math.sign(bowM) * (radiusM - Math.abs(bowM));
  const centre = { x: (a.x + b.x) / 2 - uy * outM, y: (a.y + b.y) / 2 + ux * outM };
  return { radiusM, centre, sweepRad: 4 * Math.atan2(2 * bowM, chordM) };
}

/** Greatest height of the stretch over its chord, as a bow: positive where the way turns left. */
function seenBowM({ points, x, y }: Traced, i: number, j: number, chordM: number): number {
  const a = points[i]!;
  const b = points[j]!;
  const ux = (b.x - a.x) / chordM;
  const uy = (b.y - a.y) / chordM;
  let bowM = 0;
  for (let k = i + 1; k < j; k++) {
    const right = (x[k]! - a.x) * uy - (y[k]! - a.y) * ux;
    if (Math.abs(right) > Math.abs(bowM)) bowM = right;
  }
  return bowM;
}

/** A first bow bettered by least squares of the distances left over, each point counting by its own height over the chord. */
function betterBowM({ points, x, y }: Traced, i: number, j: number, chordM: number, firstM: number): number {
  const a = points[i]!;
  const b = points[j]!;
  const { centre, radiusM } = circleOf(a, b, firstM);
  const ux = (b.x - a.x) / chordM;
  const uy = (b.y - a.y) / chordM;
  let sum = 0;
  let squares = 0;
  for (let k = i + 1; k < j; k++) {
    const height = ((x[k]! - a.x) * uy - (y[k]! - a.y) * ux) / firstM;
    const cx = centre.x - x[k]!;
    const cy = centre.y - y[k]!;
    sum += height * (Math.sqrt(cx * cx + cy * cy) - radiusM);
    squares += height * height;
  }
  return firstM + (Math.sign(firstM) * sum) / squares;
}

/** Sweep of the arc between two points of the route that keeps to it, or null: the height seen, bettered once. */
function arcSweepRad(route: Traced, i: number, j: number): number | null {
  const { points, x, y, alongM } = route;
  const a = points[i]!;
  const b = points[j]!;
  const chordM = distanceM(a, b);
  if (chordM === 0) return null;
  const firstM = seenBowM(route, i, j, chordM);
  if (Math.abs(firstM) < LEAST_BOW_M || Math.abs(firstM) > WIDEST_BOW_RATIO * chordM) return null;
  const bowM = betterBowM(route, i, j, chordM, firstM);
  if (Math.abs(bowM) < LEAST_BOW_M || bowM * firstM < 0) return null;
  const { centre, radiusM, sweepRad } = circleOf(a, b, bowM);
  if (Math.abs(radiusM * Math.abs(sweepRad) - (alongM[j]! - alongM[i]!)) > LENGTH_SLACK_M) return null;
  for (let k = i + 1; k < j; k++) {
    const cx = centre.x - x[k]!;
    const cy = centre.y - y[k]!;
    if (Math.abs(Math.sqrt(cx * cx + cy * cy) - radiusM) > STRAY_M) return null;
  }
  return sweepRad;
}

/** The furthest point a line or arc from `from` reaches, by doubling and halving. */
function furthest(from: number, last: number, fits: (to: number) => boolean): number {
  let good = from + 1;
  let step = 1;
  while (good < last && fits(Math.min(last, good + step))) {
    good = Math.min(last, good + step);
    step *= 2;
  }
  let bad = Math.min(last + 1, good + step);
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (fits(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

/** Headings of a line or arc at its two ends. */
export function pieceHeadings(piece: {
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  readonly sweepRad: number;
}): { readonly startRad: number; readonly endRad: number } {
  const chordRad = Math.atan2(piece.to.y - piece.from.y, piece.to.x - piece.from.x);
  return { startRad: chordRad - piece.sweepRad / 2, endRad: chordRad + piece.sweepRad / 2 };
}

/** An angle as the turn nearest to none, (-pi, pi]. */
export const nearestTurnRad = (angleRad: number): number =>
  Math.atan2(Math.sin(angleRad), Math.cos(angleRad));

interface Span {
  readonly from: number;
  readonly to: number;
  readonly sweepRad: number;
}

function spansOf(route: Traced, cuts: ReadonlySet<number>): Span[] {
  const { alongM } = route;
  const spans: Span[] = [];
  let from = 0;
  while (from < route.points.length - 1) {
    let last = from + 1;
    while (last < route.points.length - 1 && !cuts.has(alongM[last]!)) last++;
    const line = furthest(from, last, (to) => isStraight(route, from, to));
    const arc = furthest(
      from,
      last,
      (to) => isStraight(route, from, to) || arcSweepRad(route, from, to) !== null,
    );
    const straight = alongM[line]! - alongM[from]! >= STRAIGHT_SHARE * (alongM[arc]! - alongM[from]!);
    const to = straight ? line : arc;
    spans.push({ from, to, sweepRad: straight ? 0 : (arcSweepRad(route, from, to) ?? 0) });
    from = to;
  }
  return spans;
}

const refit = (route: Traced, from: number, to: number, isArc: boolean): number | null =>
  isArc ? arcSweepRad(route, from, to) : isStraight(route, from, to) ? 0 : null;

const bend = (route: Traced, a: Span, b: Span): number =>
  Math.abs(
    nearestTurnRad(
      pieceHeadings({ from: route.points[b.from]!, to: route.points[b.to]!, sweepRad: b.sweepRad }).startRad -
        pieceHeadings({ from: route.points[a.from]!, to: route.points[a.to]!, sweepRad: a.sweepRad }).endRad,
    ),
  );

/** The best place between two spans' far ends for them to meet, each refitted; null where they cannot meet. */
function meeting(route: Traced, a: Span, b: Span, from: number, to: number): readonly [Span, Span] | null {
  let best: { readonly pair: readonly [Span, Span]; readonly bend: number } | null = null;
  for (let at = from; at <= to; at++) {
    if (at <= a.from || at >= b.to) continue;
    const first = refit(route, a.from, at, a.sweepRad !== 0);
    if (first === null) continue;
    const second = refit(route, at, b.to, b.sweepRad !== 0);
    if (second === null) continue;
    const pair = [
      { from: a.from, to: at, sweepRad: first },
      { from: at, to: b.to, sweepRad: second },
    ] as const;
    const bends = bend(route, ...pair);
    if (!best || bends < best.bend - 1e-6) best = { pair, bend: bends };
  }
  return best?.pair ?? null;
}

/** Leaves out short pieces whose neighbours can meet without them. */
function withoutScraps(route: Traced, spans: Span[], cuts: ReadonlySet<number>): Span[] {
  for (let k = 1; k + 1 < spans.length; k++) {
    const [a, scrap, b] = [spans[k - 1]!, spans[k]!, spans[k + 1]!];
    if (route.alongM[scrap.to]! - route.alongM[scrap.from]! > SCRAP_M) continue;
    if (cuts.has(route.alongM[scrap.from]!) || cuts.has(route.alongM[scrap.to]!)) continue;
    const pair = meeting(route, a, b, scrap.from, scrap.to);
    if (!pair) continue;
    spans.splice(k - 1, 3, ...pair);
    k = Math.max(0, k - 2);
  }
  return spans;
}

/** Shifts the places where steps meet to where they meet most smoothly: a row ends where its turn begins, not within it. */
function smoothed(route: Traced, spans: Span[], cuts: ReadonlySet<number>): Span[] {
  for (let k = 0; k + 1 < spans.length; k++) {
    const [a, b] = [spans[k]!, spans[k + 1]!];
    if (cuts.has(route.alongM[a.to]!)) continue;
    const near = (index: number): boolean => Math.abs(route.alongM[index]! - route.alongM[a.to]!) <= SHIFT_M;
    let [from, to] = [a.to, a.to];
    while (from - 1 > a.from && near(from - 1)) from--;
    while (to + 1 < b.to && near(to + 1)) to++;
    const pair = meeting(route, a, b, from, to);
    if (!pair) continue;
    spans[k] = pair[0];
    spans[k + 1] = pair[1];
  }
  return spans;
}

/**
 * A route as the fewest straights and arcs that greedily keep within 8 mm of it; each begins and ends on the route.
 *
 * @param cutsM  distances along the path at which a piece must end, ascending
 */
export function arcPieces(path: Polyline, cutsM: readonly number[]): readonly ArcPiece[] {
  if (path.length < 2) return [];
  const route = traced(path, cutsM);
  const cuts = new Set(cutsM);
  return smoothed(route, withoutScraps(route, spansOf(route, cuts), cuts), cuts).map((span) => ({
    fromM: route.alongM[span.from]!,
    toM: route.alongM[span.to]!,
    from: route.points[span.from]!,
    to: route.points[span.to]!,
    sweepRad: span.sweepRad,
  }));
}
