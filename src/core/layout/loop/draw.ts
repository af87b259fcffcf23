import {
  closeRing,
  distanceM,
  type Polyline,
  polylineLengthM,
  type Region,
  type Ring,
  ringAreaM2,
  ringLengthM,
} from '../../geometry';
import { type Bridge, findBridges } from './bridges';
import { type Candidate, fromFrame } from './candidates';
import {
  closeRuns,
  countTurns,
  type DryPatch,
  dryPatches,
  groundM2,
  type SampledGround,
  samplesOf,
} from './defects';
import { joinOutlines, outlineOf } from './outline';
import { repairLoop } from './repair';
import type { LoopRequest, TraceLayer } from './request';
import { type Shaped, shapeOutline } from './shape';
import { splitTree } from './split';
import { type Comb, cutComb } from './teeth';
import { spanTeeth, type Tree } from './tree';

/** Dry ground weighs this many times the tubing it would take. */
const DRY_WEIGHT = 12;
/** A gap up to this many spacings is what even rows leave at their ends. */
const FAIR_GAP_RATIO = 0.6;
/** Tubing nearer than it may be is worth this many metres of detour, each place. */
const CLOSE_WEIGHT_M = 20;
/** A metre of tubing that is not laid straight costs this much more: it is dimensioned and laid by eye (ours, stated). */
const CURVED_WEIGHT_RATIO = 0.25;
/** Dry ground reaching further than this many spacings from its worst point is a stripe, not a spot. */
const LONGEST_PULLED_RATIO = 2.5;
/** What one repair leaves, a second sometimes mends; a third never did. */
const MOST_REPAIRS = 2;

/** A candidate as a bare outline: teeth and bridges, corners still sharp. */
export interface Drawing {
  readonly candidate: Candidate;
  readonly comb: Comb;
  readonly tree: Tree;
  readonly outlines: readonly Ring[];
  /** Metres of tubing, turns counted in, that this is expected to cost; ground left dry is the candidate's rough guess. */
  readonly costM: number;
}

/** A candidate laid as tubing. Rings in the candidate's frame. */
export interface Laid {
  readonly drawing: Drawing;
  readonly rings: readonly Ring[];
  readonly bendRadiusM: number;
  readonly costM: number;
  /** Null where it was not judged. */
  readonly samples: SampledGround | null;
  readonly judgement: Judgement;
}

/** Draws the teeth and bridges of a candidate; null where it has none. */
export function drawCandidate(candidate: Candidate, request: LoopRequest, spacingM: number): Drawing | null {
  const { frame } = candidate;
  const comb = cutComb(frame.ground, candidate.levels, request.minSeparationM);
  if (comb.teeth.length === 0) return null;
  const bridges = findBridges(comb, {
    side: candidate.side,
    spacingM,
    minSeparationM: request.minSeparationM,
  });
  const tree = spanTeeth(comb.teeth.length, bridges);
  const outlines = outlinesOf(comb, tree);
  const bridgeCostM = tree.bridges.reduce((sum, bridge) => sum + bridge.cost, 0) * 0.5 * spacingM;
  const costM =
    outlines.reduce((sum, ring) => sum + ringLengthM(ring), 0) +
    (request.turnWeightM ?? 1) * 2 * comb.teeth.length +
    bridgeCostM +
    candidate.dryCostM +
    0.3 * (outlines.length - 1) * Math.sqrt(groundM2(frame.ground));
  return { candidate, comb, tree, outlines, costM };
}

function outlinesOf(comb: Comb, tree: Tree): Ring[] {
  return tree.groups.flatMap((group) => {
    const members = new Set(group);
    return outlineOf(
      comb,
      group,
      tree.bridges.filter((bridge: Bridge) => members.has(bridge.lower)),
    );
  });
}

/** Lays a drawing as tubing: loose outlines joined, corners bent; defects are left as they are. Null where no loop survives. */
export function layDrawing(
  drawing: Drawing,
  request: LoopRequest,
  spacingM: number,
  trace: TraceLayer[] | null,
): Laid | null {
  const { frame } = drawing.candidate;
  const layer = (name: string, region: Region): void => {
    trace?.push({ name, rings: region.map((ring) => closeRing(fromFrame(ring, frame))) });
  };
  layer(
    'teeth',
    drawing.comb.teeth.map((tooth) => tooth.outer),
  );
  layer(
    'bridges',
    drawing.tree.bridges.flatMap((bridge) => bridge.region),
  );
  layer('outlines', drawing.outlines);
  const whole = joinOutlines(drawing.outlines, frame.ground, spacingM, request.minSeparationM);
  const shaped = shapeAll(whole, frame.ground, request);
  if (shaped.rings.length === 0) return null;
  const torn = asLaid(shaped, drawing, request, spacingM);
  const joined = rejoin(shaped, frame.ground, request, spacingM);
  const again = joined ? asLaid(joined, drawing, request, spacingM) : torn;
  const best = again.costM <= torn.costM ? again : torn;
  layer('shaped', best.rings);
  return best;
}

/** Lays a drawing as several loops, none longer than the limit and about equal; defects are left as they are. */
export function laySplit(
  drawing: Drawing,
  request: LoopRequest,
  spacingM: number,
  limitM: number,
): Laid | null {
  let best: { shaped: ShapedLoops; tree: Tree } | null = null;
  for (let extraCuts = 0; extraCuts < 3; extraCuts++) {
    const tree = splitTree(drawing.tree, drawing.comb.teeth, limitM, extraCuts);
    const shaped = shapeAll(outlinesOf(drawing.comb, tree), drawing.candidate.frame.ground, request);
    if (shaped.rings.length === 0) continue;
    best = { shaped, tree };
    if (shaped.rings.every((ring) => ringLengthM(ring) <= limitM)) break;
  }
  return best ? asLaid(best.shaped, { ...drawing, tree: best.tree }, request, spacingM) : null;
}

interface ShapedLoops {
  readonly rings: readonly Ring[];
  /** Pieces that tore off at necks too thin for two runs. */
  readonly lost: readonly Ring[];
  readonly bendRadiusM: number;
}

/** A torn-off piece smaller than this many row squares is a tail for a spur, not ground for a loop. */
const LEAST_PIECE_ROWS2 = 1.5;

/**
 * Loops from which pieces tore off, joined to those pieces elsewhere: across the ground between two rows, where a joint does
 * not tear. A piece that can be joined nowhere is a loop of its own where it is large enough.
 */
function rejoin(
  torn: ShapedLoops,
  ground: Region,
  request: LoopRequest,
  spacingM: number,
): ShapedLoops | null {
  const leastM2 = LEAST_PIECE_ROWS2 * spacingM * spacingM;
  const pieces = torn.lost.filter((piece) => ringAreaM2(piece) > leastM2);
  if (pieces.length === 0) return null;
  // Bending corners is most of the work of a torn loop, and the joint that is taken was bent to be looked at.
  const bent = new Map<Ring, Shaped | null>();
  const keepsAll = (joined: Ring): boolean => {
    const shaped = shapeOutline(joined, ground, request.bendRadiusM, request.minSeparationM);
    bent.set(joined, shaped);
    return shaped?.lost.every((piece) => ringAreaM2(piece) < leastM2) ?? false;
  };
  const rejoined = joinOutlines(
    [...torn.rings, ...pieces],
    ground,
    spacingM,
    request.minSeparationM,
    keepsAll,
  );
  const again = shapeAll(rejoined, ground, request, bent);
  return again.rings.length > 0 ? again : null;
}

/**
 * Bends the corners of all outlines; a little tighter than the tubing's own radius only where the loop would tear.
 *
 * @param bent  outlines that were bent to the tubing's own radius already, with what came of it
 */
function shapeAll(
  outlines: readonly Ring[],
  ground: Region,
  request: LoopRequest,
  bent: ReadonlyMap<Ring, Shaped | null> = new Map(),
): ShapedLoops {
  let bendRadiusM = request.bendRadiusM;
  const lost: Ring[] = [];
  const rings = outlines.flatMap((outline) => {
    for (const share of [1, 0.8, 0.6]) {
      const known = share === 1 ? bent.get(outline) : undefined;
      const shaped =
        known === undefined
          ? shapeOutline(outline, ground, share * request.bendRadiusM, request.minSeparationM)
          : known;
      if (!shaped) continue;
      bendRadiusM = Math.min(bendRadiusM, share * request.bendRadiusM);
      lost.push(...shaped.lost);
      return [shaped.ring];
    }
    return [];
  });
  return { rings, lost, bendRadiusM };
}

/** A loop laid again the only way looked at is compared with nothing. */
const UNJUDGED: Judgement = { costM: 0, dry: [], close: [] };

function asLaid(shaped: ShapedLoops, drawing: Drawing, request: LoopRequest, spacingM: number): Laid {
  const { ground } = drawing.candidate.frame;
  if (request.quality === 'following')
    return { drawing, ...shaped, costM: 0, samples: null, judgement: UNJUDGED };
  const samples = samplesOf(ground, spacingM);
  const judgement = judgeRings(shaped.rings, samples, groundM2(ground) / spacingM, request, spacingM);
  return { drawing, ...shaped, costM: judgement.costM, samples, judgement };
}

/** The same laid loops with what is dry or too near mended, as long as that makes them better. */
export function mendLaid(laid: Laid, request: LoopRequest, spacingM: number): Laid {
  const { ground } = laid.drawing.candidate.frame;
  const idealM = groundM2(ground) / spacingM;
  const limits = { ground, spacingM, minSeparationM: request.minSeparationM };
  const samples = laid.samples ?? samplesOf(ground, spacingM);
  let best = laid;
  for (let round = 0; round < MOST_REPAIRS; round++) {
    const { close } = best.judgement;
    const dry = best.judgement.dry.filter((patch) => isWorthPulling(patch, spacingM));
    if (dry.length === 0 && close.length === 0) break;
    const pulled = best.rings.map((ring) => repairLoop(ring, { dry, close }, limits));
    const tried = shapeAll(pulled, ground, request);
    if (tried.rings.length !== best.rings.length || tried.bendRadiusM < laid.bendRadiusM) break;
    const judgement = judgeRings(tried.rings, samples, idealM, request, spacingM);
    if (judgement.costM >= best.costM) break;
    best = { ...best, rings: tried.rings, costM: judgement.costM, judgement };
  }
  return best;
}

/** What a laid loop costs in metres of tubing, and where it is not as wanted. */
export interface Judgement {
  readonly costM: number;
  readonly dry: readonly DryPatch[];
  readonly close: readonly { readonly x: number; readonly y: number }[];
}

function judgeRings(
  rings: readonly Ring[],
  samples: SampledGround,
  idealM: number,
  request: LoopRequest,
  spacingM: number,
): Judgement {
  const paths = rings.map(closeRing);
  const lengthM = paths.reduce((sum, path) => sum + polylineLengthM(path), 0);
  const turns = paths.reduce((sum, path) => sum + countTurns(path, spacingM), 0);
  const dry = dryPatches(rings, samples, spacingM);
  const dryM2 = dry.reduce((sum, patch) => sum + patch.areaM2, 0);
  const furthestM = dry.reduce((furthest, patch) => Math.max(furthest, patch.distanceM), 0);
  const runs = closeRuns(paths, spacingM, request.minSeparationM);
  const close = runs.flatMap(({ one, other }) => [one, other]);
  const places = countPlaces(close, spacingM);
  const costM =
    lengthM +
    (request.turnWeightM ?? 1) * turns +
    CURVED_WEIGHT_RATIO * paths.reduce((sum, path) => sum + shortPiecesM(path, spacingM), 0) +
    (DRY_WEIGHT * dryM2) / spacingM +
    Math.min(2 * idealM, 60) * Math.max(0, furthestM / spacingM - FAIR_GAP_RATIO) +
    CLOSE_WEIGHT_M * places;
  return { costM, dry, close };
}

/** Tubing in pieces too short to be a row or a straight end, metres. */
function shortPiecesM(path: Polyline, spacingM: number): number {
  let sumM = 0;
  for (let index = 1; index < path.length; index++) {
    const lengthM = distanceM(path[index - 1]!, path[index]!);
    if (lengthM < 0.5 * spacingM) sumM += lengthM;
  }
  return sumM;
}

/**
 * Is a dry patch a spot that a row may be pulled towards? A long stripe beside a row is not: pulled at its middle the row
 * would bulge, and be no better elsewhere.
 */
function isWorthPulling(patch: DryPatch, spacingM: number): boolean {
  const longestM = Math.max(...patch.points.map((point) => distanceM(point, patch.at)));
  return patch.distanceM > FAIR_GAP_RATIO * spacingM && longestM < LONGEST_PULLED_RATIO * spacingM;
}

/** How many separate places some points mark: points within a spacing of another are one place. */
function countPlaces(
  points: readonly { readonly x: number; readonly y: number }[],
  spacingM: number,
): number {
  const places: { readonly x: number; readonly y: number }[] = [];
  for (const point of points)
    if (places.every((place) => distanceM(place, point) > spacingM)) places.push(point);
  return places.length;
}
