import { type IndexedSegment, nearestOnSegment, type PlanPoint, SegmentIndex } from '../geometry';

/** Emitters as laid: plan metres, the run each sits on, in the order of the run. Arrays of one length. */
export interface LaidEmitters {
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  readonly run: ArrayLike<number>;
}

/** Two emitters, or an emitter and the neighbouring row, and how their wetted circles meet. */
export interface WettedPair {
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  readonly distanceM: number;
  /** Greatest distance the two could have if the rows' emitters were shifted along each other; along a row, the same. */
  readonly worstDistanceM: number;
}

/** How many of a set of pairs overlap, and by how much the worst of them does. */
export interface OverlapSummary {
  readonly pairCount: number;
  readonly overlapCount: number;
  /** 1 where there is no pair: nothing is left dry between. */
  readonly shareRatio: number;
  /** (diameter - distance) / diameter of the worst pair; below 0 a gap. 1 where there is no pair. */
  readonly leastRatio: number;
}

/** Wetted ground along and across the rows of a laid route, with what is needed to draw it. */
export interface WettedOverlap {
  readonly wettedDiameterM: number;
  readonly along: OverlapSummary;
  readonly acrossAsLaid: OverlapSummary;
  readonly acrossWorstPhase: OverlapSummary;
  /** Share of all pairs, along and across, that overlap at the worst phase. */
  readonly worstPhaseRatio: number;
  /** Ground furthest from any water between rows at the worst phase: distance to the wetted edge, m; 0 where all meets. */
  readonly driestM: number;
  /** Pairs that leave ground dry between, for drawing. */
  readonly gaps: readonly WettedPair[];
}

/** Neighbouring rows are looked for within this many row spacings. */
const NEIGHBOUR_REACH = 1.6;

function summarise(distancesM: readonly number[], diameterM: number): OverlapSummary {
  if (distancesM.length === 0) return { pairCount: 0, overlapCount: 0, shareRatio: 1, leastRatio: 1 };
  const overlapCount = distancesM.filter((distance) => distance <= diameterM * (1 + 1e-9)).length;
  const longest = distancesM.reduce((most, distance) => Math.max(most, distance), 0);
  return {
    pairCount: distancesM.length,
    overlapCount,
    shareRatio: overlapCount / distancesM.length,
    leastRatio: (diameterM - longest) / diameterM,
  };
}

/** Emitters run by run, each run's in its own order. */
function chainsOf(emitters: LaidEmitters): readonly (readonly PlanPoint[])[] {
  const chains = new Map<number, PlanPoint[]>();
  for (let index = 0; index < emitters.x.length; index += 1) {
    const run = emitters.run[index] ?? 0;
    const chain = chains.get(run) ?? [];
    chain.push({ x: emitters.x[index] ?? 0, y: emitters.y[index] ?? 0 });
    chains.set(run, chain);
  }
  return [...chains.entries()].sort((a, b) => a[0] - b[0]).map(([, chain]) => chain);
}

const apart = (a: PlanPoint, b: PlanPoint): number => Math.hypot(a.x - b.x, a.y - b.y);

/** The nearest piece of another row on one side of an emitter; what lies ahead or behind is its own row. */
interface RowBeside {
  readonly piece: IndexedSegment;
  readonly rowDistanceM: number;
}

/** A place seen from an emitter lies before or behind it on its row, whose step is given, rather than beside it. */
function liesAhead(from: PlanPoint, to: PlanPoint, at: PlanPoint, place: PlanPoint): boolean {
  const step = { x: to.x - from.x, y: to.y - from.y };
  const toward = { x: place.x - at.x, y: place.y - at.y };
  return Math.abs(step.x * toward.x + step.y * toward.y) > Math.abs(step.x * toward.y - step.y * toward.x);
}

function rowsBeside(
  index: SegmentIndex,
  chain: number,
  place: number,
  chains: readonly (readonly PlanPoint[])[],
  reachM: number,
): readonly RowBeside[] {
  const points = chains[chain] ?? [];
  const at = points[place];
  const before = points[place - 1] ?? at;
  const after = points[place + 1] ?? at;
  if (at === undefined || before === undefined || after === undefined) return [];
  const along = { x: after.x - before.x, y: after.y - before.y };
  const box = { minX: at.x - reachM, minY: at.y - reachM, maxX: at.x + reachM, maxY: at.y + reachM };
  const sides: [RowBeside | null, RowBeside | null] = [null, null];
  for (const piece of index.touching(box)) {
    if (piece.chain === chain && (piece.edge === place || piece.edge === place - 1)) continue;
    const near = nearestOnSegment(at, piece.a, piece.b);
    const rowDistanceM = apart(at, near.at);
    if (rowDistanceM > reachM || liesAhead(before, at, at, near.at) || liesAhead(at, after, at, near.at))
      continue;
    const side = along.x * (near.at.y - at.y) - along.y * (near.at.x - at.x) > 0 ? 0 : 1;
    const held = sides[side];
    if (held === null || rowDistanceM < held.rowDistanceM - 1e-9) sides[side] = { piece, rowDistanceM };
  }
  return sides.filter((side): side is RowBeside => side !== null);
}

/**
 * How wetted circles of one diameter meet along and across the rows of a route as laid.
 * Across, the crew cannot choose where emitters fall: besides the distance as laid, the worst shift of the rows is judged,
 * half an emitter spacing for the pair and none for the driest ground between four emitters.
 * A pure function of positions; linear but for the index. Range: diameter, spacings > 0.
 */
export function wettedOverlap(input: {
  readonly emitters: LaidEmitters;
  readonly wettedDiameterM: number;
  readonly rowSpacingM: number;
  readonly emitterSpacingM: number;
}): WettedOverlap {
  const { wettedDiameterM, rowSpacingM, emitterSpacingM } = input;
  const chains = chainsOf(input.emitters);
  const along = chains.flatMap((chain) =>
    chain.slice(1).map((to, index): WettedPair => {
      const from = chain[index] ?? to;
      const distanceM = apart(from, to);
      return { from, to, distanceM, worstDistanceM: distanceM };
    }),
  );
  const pieces = SegmentIndex.ofPaths(chains);
  const halfM = emitterSpacingM / 2;
  let driestM = 0;
  const across = chains.flatMap((chain, chainIndex) =>
    chain.flatMap((from, place) =>
      rowsBeside(pieces, chainIndex, place, chains, rowSpacingM * NEIGHBOUR_REACH).map(
        ({ piece, rowDistanceM }): WettedPair => {
          const to = apart(from, piece.a) <= apart(from, piece.b) ? piece.a : piece.b;
          driestM = Math.max(driestM, Math.hypot(rowDistanceM / 2, halfM) - wettedDiameterM / 2);
          return {
            from,
            to,
            distanceM: apart(from, to),
            worstDistanceM: Math.hypot(rowDistanceM, halfM),
          };
        },
      ),
    ),
  );
  const worst = [...along, ...across].map((pair) => pair.worstDistanceM);
  return {
    wettedDiameterM,
    along: summarise(
      along.map((pair) => pair.distanceM),
      wettedDiameterM,
    ),
    acrossAsLaid: summarise(
      across.map((pair) => pair.distanceM),
      wettedDiameterM,
    ),
    acrossWorstPhase: summarise(
      across.map((pair) => pair.worstDistanceM),
      wettedDiameterM,
    ),
    worstPhaseRatio: summarise(worst, wettedDiameterM).shareRatio,
    driestM,
    gaps: [...along, ...across].filter((pair) => pair.worstDistanceM > wettedDiameterM * (1 + 1e-9)),
  };
}
