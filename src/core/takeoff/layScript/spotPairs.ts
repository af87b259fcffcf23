import { distanceM, type PlanPoint, turnAreaM2 } from '../../geometry';
import type { FixedSpot, LayTie, SpotPair } from './types';

/** A tape is pulled no further than this by hand: 100 ft. Common practice, no source. */
const REACH_M = 30.48;
/** Two hooks nearer than this make a useless triangle. */
const LEAST_BASE_M = 1.5;
/** Sine of the flattest crossing that still holds a point to the reading: 40 degrees and 140 degrees. */
const FAIR_CROSSING = Math.sin((40 * Math.PI) / 180);
const MOST_PAIRS = 4;
/** What a pair loses with points on both of its sides, and for each rank of its two points, in sine of the crossing. */
const BOTH_SIDES_LOSS = 0.1;
const RANK_LOSS = 0.01;
/** A long tape sags and is slow: what a pair loses for each metre of its longest reading. */
const METRE_LOSS = 0.005;

interface Tried<S extends FixedSpot> {
  readonly first: S;
  readonly second: S;
  readonly ties: readonly (Omit<LayTie, 'pair'> | null)[];
}

/** Distances from every fixed point to every point, worked once: each pair asks for two of them. */
type Readings = readonly (readonly number[])[];

/** The tapes from two fixed points to a third; null out of reach. */
function tieOf(
  first: PlanPoint,
  second: PlanPoint,
  at: PlanPoint,
  firstM: number,
  secondM: number,
): Omit<LayTie, 'pair'> | null {
  if (Math.max(firstM, secondM) > REACH_M || Math.min(firstM, secondM) < 0.1) return null;
  const areaM2 = turnAreaM2(first, second, at);
  return {
    firstM,
    secondM,
    side: areaM2 >= 0 ? 'left' : 'right',
    crossingSine: Math.abs(areaM2) / (firstM * secondM),
  };
}

function triedPairs<S extends FixedSpot>(
  spots: readonly S[],
  points: readonly PlanPoint[],
): readonly Tried<S>[] {
  const readings: Readings = spots.map((spot) => points.map((at) => distanceM(spot.at, at)));
  return spots.flatMap((first, i) =>
    spots.slice(i + 1).flatMap((second, k) =>
      distanceM(first.at, second.at) < LEAST_BASE_M
        ? []
        : [
            {
              first,
              second,
              ties: points.map((at, p) =>
                tieOf(first.at, second.at, at, readings[i]![p]!, readings[i + 1 + k]![p]!),
              ),
            },
          ],
    ),
  );
}

/** How many of the points still wanted a pair holds well, then how well it holds the worst of those. */
function merit<S extends FixedSpot>(
  pair: Tried<S>,
  wanted: readonly boolean[],
): { readonly held: number; readonly score: number } {
  let held = 0;
  let worst = 1;
  let longestM = 0;
  let [left, right] = [false, false];
  pair.ties.forEach((tie, i) => {
    if (!wanted[i] || !tie || tie.crossingSine < FAIR_CROSSING) return;
    held++;
    worst = Math.min(worst, tie.crossingSine);
    longestM = Math.max(longestM, tie.firstM, tie.secondM);
    if (tie.side === 'left') left = true;
    else right = true;
  });
  const loss =
    (left && right ? BOTH_SIDES_LOSS : 0) +
    RANK_LOSS * (pair.first.rank + pair.second.rank) +
    METRE_LOSS * longestM;
  return { held, score: worst - loss };
}

/** Crossing of a point under a pair; 0 out of reach. */
const crossing = <S extends FixedSpot>(pair: Tried<S>, i: number): number => pair.ties[i]?.crossingSine ?? 0;

/**
 * Pairs of fixed points, the fewest that give every point a fair crossing (40 to 140 degrees) within a tape's reach: each
 * time the pair that holds the most points still wanting, then the one whose worst crossing is nearest a right angle. A point is
 * tied to the first pair that holds it fairly, else to the best there is; null out of reach of all.
 */
export function tieByPairs<S extends FixedSpot>(
  spots: readonly S[],
  points: readonly PlanPoint[],
): { readonly pairs: readonly SpotPair<S>[]; readonly ties: readonly (LayTie | null)[] } {
  const tried = triedPairs(spots, points);
  const chosen: Tried<S>[] = [];
  let wanted = points.map(() => true);
  while (chosen.length < MOST_PAIRS && wanted.some((w) => w)) {
    let best: { pair: Tried<S>; held: number; score: number } | null = null;
    for (const pair of tried) {
      const found = merit(pair, wanted);
      if (!best || found.held > best.held || (found.held === best.held && found.score > best.score + 1e-9))
        best = { pair, ...found };
    }
    if (!best || (best.held === 0 && chosen.length > 0)) break;
    chosen.push(best.pair);
    const { pair } = best;
    wanted = wanted.map((w, i) => w && crossing(pair, i) < FAIR_CROSSING);
  }
  const ties = points.map((_, i): LayTie | null => {
    const fair = chosen.findIndex((pair) => crossing(pair, i) >= FAIR_CROSSING);
    const best = chosen.reduce(
      (b, pair, k) => (b < 0 || crossing(pair, i) > crossing(chosen[b]!, i) ? k : b),
      -1,
    );
    const index = fair >= 0 ? fair : best;
    const tie = chosen[index]?.ties[i];
    return tie ? { pair: index, ...tie } : null;
  });
  const used = chosen.map((_, k) => ties.filter((tie) => tie?.pair === k));
  const pairs = chosen.map(({ first, second }, k): SpotPair<S> => {
    const sides = new Set(used[k]!.map((tie) => tie!.side));
    return { first, second, side: sides.size === 2 ? 'both' : sides.has('right') ? 'right' : 'left' };
  });
  return { pairs, ties };
}
