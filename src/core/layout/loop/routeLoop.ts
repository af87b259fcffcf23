import {
  beginClosedPathAt,
  closeRing,
  dropThinGround,
  inflateRings,
  intersectRings,
  nearestOnPath,
  nestRings,
  orientRing,
  type Polygon,
  polygonAreaM2,
  polylineLengthM,
  quantisePoints,
  type Ring,
  ringLengthM,
  ringsOf,
  simplifyRing,
  subtractRings,
} from '../../geometry';
import { StepBudget } from './budget';
import { type Candidate, findCandidates, fromFrame } from './candidates';
import { closeRuns } from './closeRuns';
import { countTurns, dryPatches, samplesOf } from './defects';
import { type Combs, type Drawing, drawCandidate, type Laid, layDrawing, laySplit } from './draw';
import { mendLaid } from './mend';
import type { LoopDefect, LoopRequest, LoopRoute, Mending, RoutedLoop, TraceLayer } from './request';

const DEFAULT_STEPS = 4000;
/**
 * Candidates drawn as bare outlines, and of those laid as tubing, at each quality; more of the drawn where tubing lies nearer
 * than it may in all that were laid and none is mended; and whether the cheapest is mended.
 */
const TRIED = {
  following: { drawn: 1, laid: 1, laidUntilFree: 1, isMended: false },
  preview: { drawn: 5, laid: 2, laidUntilFree: 5, isMended: false },
  quick: { drawn: 4, laid: 3, laidUntilFree: 3, isMended: true },
  finished: { drawn: 12, laid: 8, laidUntilFree: 8, isMended: true },
};
/** On large ground that is cut into loops fewer are laid: the split decides there, and none drawn as fourth or later was ever cheapest (19 beds; ours). */
const TRIED_SPLIT = { ...TRIED.finished, laid: 3 };
const LARGE_SPLIT_M2 = 300;
/** The last route's topology is kept unless another is better by this share. */
const KEPT_RATIO = { following: 0, preview: 0.9, quick: 0.9, finished: 0.97 };
/** Points of the ground nearer than this to the line of their neighbours are dropped: half the clearance tolerance. */
const THIN_GROUND_M = 8e-4;

/**
 * One closed loop of tubing through each part of the ground that two runs can reach: the outline of a comb of rows.
 * Closed, free of crossings and on the ground by construction; what is not as wanted comes back as defects.
 *
 * Fails: `refused` says why there is no loop: too narrow for two runs anywhere, or the step budget was spent before any
 * route was found.
 *
 * @param holds  is a route fit to be taken? Where it is not it is mended another way, then laid another way; where none is, the cheapest
 *   comes back as it was laid
 */
export function routeLoop(
  request: LoopRequest,
  holds: (found: LoopRoute) => boolean = () => true,
): LoopRoute {
  const budget = new StepBudget(request.stepBudget ?? DEFAULT_STEPS);
  const trace: TraceLayer[] | null = request.trace ? [] : null;
  const spacingM = request.rowSpacingM * (1 + (request.rowStretchRatio ?? 0));
  const parts = reachableParts(request);
  trace?.push({ name: 'reachable', rings: ringsOf(parts).map(closeRing) });
  const ranked = parts
    .map((ground, part) => layPart(ground, request, spacingM, budget).map((laid) => ({ ...laid, part })))
    .filter((laid) => laid.length > 0);
  if (ranked.length === 0)
    return {
      ...emptyRoute(request),
      reachableParts: parts.length,
      refused: budget.isSpent ? 'layout.too-complex' : 'layout.too-narrow',
      ...(trace ? { trace } : {}),
    };
  const ways = TRIED[request.quality].isMended ? (request.mending ?? DEFAULT_MENDING) : (['bare'] as const);
  const finish = (mended: readonly LaidPart[]): LoopRoute => {
    const route = { ...toRoute(mended, request, spacingM), reachableParts: parts.length };
    if (!trace) return route;
    for (const one of mended) traceLaid(one, request, spacingM, trace);
    return { ...route, trace };
  };
  const choices = Math.min(MOST_CHOICES, Math.max(...ranked.map((laid) => laid.length)));
  for (let choice = 0; choice < choices; choice++) {
    const laid = ranked.map((one) => one[Math.min(choice, one.length - 1)]!);
    for (const [order, way] of ways.entries()) {
      const mended = laid.map((one) => mendedOf(one, request, spacingM, way));
      const isOnlyWay = choices === 1 && order === ways.length - 1;
      if (isOnlyWay || holds(toRoute(mended, request, spacingM))) return finish(mended);
    }
  }
  return finish(ranked.map((one) => one[0]!));
}

/** Where none of its mendings holds, the next cheapest way of laying is mended too, and one more. */
const MOST_CHOICES = 3;

const DEFAULT_MENDING: readonly Mending[] = ['dented'];

/** A laid part of the ground, by its index. */
type LaidPart = Laid & { readonly part: number };

function toRoute(laid: readonly LaidPart[], request: LoopRequest, spacingM: number): LoopRoute {
  const loops = laid.flatMap(({ rings, drawing, bendRadiusM, part }) =>
    rings.map((ring) => toLoop(fromFrame(ring, drawing.candidate.frame), bendRadiusM, part, request)),
  );
  const { candidate } = laid[0]!.drawing;
  return {
    loops,
    directionRad: candidate.directionRad,
    rowSpacingM: widestRowM(candidate.levels),
    rows: laid.reduce((rows, { drawing }) => rows + drawing.candidate.levels.length, 0),
    turns: loops.reduce((turns, loop) => turns + countTurns(loop.path, spacingM), 0),
    costM: laid.reduce((costM, one) => costM + one.costM, 0),
    key: candidate.key,
    defects: () => (request.quality === 'following' ? [] : findDefects(loops, request, spacingM)),
    reachableParts: laid.length,
  };
}

/** Draws how a part was laid, and what its loops were mended to. */
function traceLaid(laid: LaidPart, request: LoopRequest, spacingM: number, trace: TraceLayer[]): void {
  layDrawing(laid.drawing, request, spacingM, trace);
  const { frame } = laid.drawing.candidate;
  trace.push({ name: 'mended', rings: laid.rings.map((ring) => closeRing(fromFrame(ring, frame))) });
}

function emptyRoute(request: LoopRequest): LoopRoute {
  return {
    loops: [],
    directionRad: request.directionRad ?? 0,
    rowSpacingM: request.rowSpacingM,
    rows: 0,
    turns: 0,
    costM: 0,
    key: '',
    defects: () => [],
    reachableParts: 0,
  };
}

/** Parts of the routable ground that two runs can reach: what is left when everything thinner than the separation goes. */
function reachableParts(request: LoopRequest): Polygon[] {
  const routable = ringsOf(request.routable ?? request.usable).map((ring) =>
    simplifyRing(ring, THIN_GROUND_M),
  );
  const shrinkM = 0.49 * request.minSeparationM;
  const thick = dropThinGround(routable, shrinkM, 'miter');
  const parts = nestRings(intersectRings(thick, routable))
    .filter((part) => polygonAreaM2(part) > 1.2 * request.minSeparationM * request.rowSpacingM)
    .sort((one, other) => polygonAreaM2(other) - polygonAreaM2(one));
  return parts.map((part, index) => keptOff(part, parts.slice(0, index), request));
}

/** A part less what lies nearer to loops on larger parts, just beyond a neck, than two runs may; whole where nothing would be left. */
function keptOff(part: Polygon, larger: readonly Polygon[], request: LoopRequest): Polygon {
  if (larger.length === 0) return part;
  const reached = dropThinGround(ringsOf(larger), request.bendRadiusM);
  const left = nestRings(subtractRings(ringsOf([part]), inflateRings(reached, request.minSeparationM)));
  const [largest] = left.sort((one, other) => polygonAreaM2(other) - polygonAreaM2(one));
  return largest ?? part;
}

/** The ways found to lay a part, cheapest first, not mended yet. */
function layPart(part: Polygon, request: LoopRequest, spacingM: number, budget: StepBudget): Laid[] {
  const candidates = lastFirst(findCandidates(part, request, spacingM), request);
  const isLost = request.quality === 'following' && request.memory !== null && candidates.kept === null;
  const limits = isLargeSplit(part, request) ? TRIED_SPLIT : TRIED[isLost ? 'preview' : request.quality];
  const keptKey = candidates.kept?.key;
  const weigh = (candidate: Candidate, costM: number): number =>
    candidate.key === keptKey ? costM * KEPT_RATIO[request.quality] : costM;
  const combs: Combs = new Map();
  const drawings: { drawing: Drawing; weightM: number }[] = [];
  for (const candidate of candidates.list.slice(0, limits.drawn)) {
    if (!budget.spend(1 + pointCount(candidate) / 1000)) break;
    const drawing = drawCandidate(candidate, request, spacingM, combs);
    if (drawing) drawings.push({ drawing, weightM: weigh(candidate, drawing.costM) });
  }
  drawings.sort((one, other) => one.weightM - other.weightM);
  const laid: Weighed[] = [];
  for (const { drawing } of drawings) {
    const isFree = laid.some(({ laid: { judgement } }) => judgement.closePlaces === 0);
    if (laid.length >= (isFree ? limits.laid : limits.laidUntilFree)) break;
    if (laid.length > 0 && !budget.spend(4 + pointCount(drawing.candidate) / 250)) break;
    const found = layWithin(drawing, request, spacingM);
    if (found) laid.push({ laid: found, weightM: weigh(drawing.candidate, found.costM) });
  }
  return laid.sort((one, other) => one.weightM - other.weightM).map((one) => one.laid);
}

function isLargeSplit(part: Polygon, request: LoopRequest): boolean {
  const limitM = request.maxLoopLengthM ?? Number.POSITIVE_INFINITY;
  const areaM2 = polygonAreaM2(part);
  return request.quality === 'finished' && areaM2 > LARGE_SPLIT_M2 && areaM2 / request.rowSpacingM > limitM;
}

interface Weighed {
  readonly laid: Laid;
  readonly weightM: number;
}

/** Mending leaves more than this share of what dry ground and runs too near cost: in all but one of 120 beds (ours, stated). */
const LEFT_SHARE = 0.06;

/** A layout mended one way; as it was laid where even mended as well as can be it would be dearer than `beatM`. */
function mendedOf(laid: LaidPart, request: LoopRequest, spacingM: number, way: Mending): LaidPart {
  const { laidCostM } = laid.judgement;
  const hopedM = laidCostM + LEFT_SHARE * (laid.costM - laidCostM);
  if (way === 'bare' || hopedM >= (request.beatM ?? Number.POSITIVE_INFINITY)) return laid;
  return { ...mendLaid(laid, request, spacingM, way), part: laid.part };
}

function layWithin(drawing: Drawing, request: LoopRequest, spacingM: number): Laid | null {
  const limitM = request.maxLoopLengthM;
  const promisedM = drawing.outlines.reduce((sum, ring) => sum + ringLengthM(ring), 0);
  if (limitM !== null && promisedM > limitM) return laySplit(drawing, request, spacingM, limitM);
  const laid = layDrawing(drawing, request, spacingM, null);
  if (!laid || limitM === null || laid.rings.every((ring) => ringLengthM(ring) <= limitM)) return laid;
  return laySplit(drawing, request, spacingM, limitM) ?? laid;
}

const pointCount = (candidate: Candidate): number =>
  candidate.frame.ground.reduce((points, ring) => points + ring.length, 0);

/** The candidate most like the last route comes first, so that a picture does not jump between edits. */
function lastFirst(
  candidates: readonly Candidate[],
  request: LoopRequest,
): { readonly list: readonly Candidate[]; readonly kept: Candidate | null } {
  const { memory } = request;
  if (!memory) return { list: candidates, kept: null };
  const [, mask, side] = memory.key.split('/');
  const kept = candidates.find((candidate) => {
    const [, otherMask, otherSide] = candidate.key.split('/');
    const gapRad = Math.abs(candidate.directionRad - memory.directionRad) % Math.PI;
    return mask === otherMask && side === otherSide && Math.min(gapRad, Math.PI - gapRad) < 0.1;
  });
  if (!kept) return { list: candidates, kept: null };
  return { list: [kept, ...candidates.filter((candidate) => candidate !== kept)], kept };
}

function widestRowM(levels: readonly number[]): number {
  let widest = 0;
  for (let index = 1; index < levels.length; index++)
    widest = Math.max(widest, levels[index]! - levels[index - 1]!);
  return widest;
}

function toLoop(ring: Ring, bendRadiusM: number, part: number, request: LoopRequest): RoutedLoop {
  const closed = closeRing(orientRing(ring, 'anticlockwise'));
  const begun = request.stubUp
    ? beginClosedPathAt(closed, nearestOnPath(request.stubUp, closed).alongM)
    : closed;
  const path = closeRing(quantisePoints(begun.slice(0, -1)));
  return { path, lengthM: polylineLengthM(path), bendRadiusM, part };
}

function findDefects(loops: readonly RoutedLoop[], request: LoopRequest, spacingM: number): LoopDefect[] {
  const paths = loops.map((loop) => loop.path);
  const rings = paths.map((path) => path.slice(0, -1));
  const dry: LoopDefect[] = dryPatches(rings, samplesOf(ringsOf(request.usable), spacingM), spacingM).map(
    (patch) => ({
      kind: 'dry',
      at: patch.at,
      valueM: patch.distanceM,
      areaM2: patch.areaM2,
    }),
  );
  const close: LoopDefect[] = closeRuns(paths, spacingM, request.minSeparationM).map((runs) => ({
    kind: 'close',
    at: runs.one,
    valueM: runs.distanceM,
  }));
  const long: LoopDefect[] = loops
    .filter((loop) => request.maxLoopLengthM !== null && loop.lengthM > request.maxLoopLengthM)
    .map((loop) => ({ kind: 'unsplit', at: loop.path[0]!, valueM: loop.lengthM }));
  return [...dry, ...close, ...long];
}
