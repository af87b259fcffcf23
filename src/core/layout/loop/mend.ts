import { distanceM, type PlanPoint, type Ring } from '../../geometry';
import { DRY_RATIO, type DryPatch, groundM2, type SampledGround, samplesOf } from './defects';
import { type Dent, dentRings, dentsFor } from './dents';
import type { Laid } from './draw';
import { GroundBounds } from './groundBounds';
import { judgeRings } from './judgement';
import { repairLoop } from './repair';
import type { LoopRequest } from './request';
import { RingWalk } from './ringWalk';
import { bendAgain } from './shape';

/** Dents are tried in so many batches at most; one batch holds patches far enough apart to be judged by themselves. */
const MOST_BATCHES = 5;
/** Dents that together make the loops no better are tried in halves, and those in halves, so many times over. */
const MOST_HALVINGS = 1;
/** How far apart that is, in row spacings. */
const APART_RATIO = 2.4;
/** A dent is judged by the ground within this many spacings of its patch. */
const LOOKED_AT_RATIO = 1.6;
/** Runs that come too near within this many spacings of a dent are its doing: it bends tubing that far to both sides. */
const BENT_RATIO = 3;
/** What dents are counted on to water of their patches, all together. */
const PROMISED_SHARE = 0.6;
/** It has to water this share of what was dry there. */
const LEAST_WATERED_SHARE = 0.25;
/** A patch that reaches no further than this beyond the limit is what the sampling makes of a good row's end. */
const SLIGHT_RATIO = 0.01;
/** Dry ground reaching further than this many spacings from its worst point is a stripe, not a spot. */
const LONGEST_PULLED_RATIO = 2.5;
/** A gap up to this many spacings is what even rows leave at their ends. */
const FAIR_GAP_RATIO = 0.6;
/** What one pulling leaves, a second sometimes mends; a third never did. */
const MOST_PULLS = 2;

/** A laid loop with the samples of its ground. */
type Sampled = Laid & { readonly samples: SampledGround };

/**
 * The same laid loops with what is dry or too near mended, as long as that makes them better: first dented at their ends
 * where that is asked for, which leaves rows straight; what that cannot mend is pulled over.
 */
export function mendLaid(laid: Laid, request: LoopRequest, spacingM: number, way: 'dented' | 'pulled'): Laid {
  const samples = laid.samples ?? samplesOf(laid.drawing.candidate.frame.ground, spacingM);
  const sampled = { ...laid, samples };
  const dented = way === 'pulled' ? sampled : dentAll(sampled, request, spacingM);
  return pullOver(dented, request, spacingM);
}

function withRings(laid: Sampled, rings: readonly Ring[], request: LoopRequest, spacingM: number): Sampled {
  const idealM = groundM2(laid.drawing.candidate.frame.ground) / spacingM;
  const judgement = judgeRings(rings, laid.samples, idealM, request, spacingM);
  return { ...laid, rings, costM: judgement.costM, judgement };
}

function dentAll(laid: Sampled, request: LoopRequest, spacingM: number): Sampled {
  const tried: Tried[] = [];
  const bounds = new GroundBounds(laid.drawing.candidate.frame.ground);
  let best = laid;
  for (let batch = 0; batch < MOST_BATCHES; batch++) {
    const dents = nextDents(best, tried, bounds, request, spacingM);
    if (dents.length === 0) break;
    best = withPaying(best, untorn(best.rings, dents), request, spacingM);
  }
  return best;
}

/** A patch that dents were tried for, by its driest point, and how many. */
interface Tried {
  readonly at: PlanPoint;
  dents: number;
}

/**
 * For each patch far enough from those before it, the first way to reach it that was not tried; notes it as tried. Largest
 * patches come first, and none beyond what the goal asks.
 */
function nextDents(
  laid: Sampled,
  tried: Tried[],
  bounds: GroundBounds,
  request: LoopRequest,
  spacingM: number,
): Dent[] {
  const walks = laid.rings.map((ring) => new RingWalk(ring));
  const limits = { spacingM, minSeparationM: request.minSeparationM, bendRadiusM: laid.bendRadiusM, bounds };
  const dents: Dent[] = [];
  let excessM2 = excessDryM2(laid, request);
  for (const patch of laid.judgement.dry) {
    if (excessM2 <= 0 && patch.distanceM <= request.goal.gapRatio * spacingM) continue;
    if (patch.distanceM < (DRY_RATIO + SLIGHT_RATIO) * spacingM) continue;
    if (dents.some((dent) => distanceM(dent.at, patch.at) < APART_RATIO * spacingM)) continue;
    let known = tried.find((one) => distanceM(one.at, patch.at) < 0.3 * spacingM);
    if (!known) {
      known = { at: patch.at, dents: 0 };
      tried.push(known);
    }
    const dent = dentsFor(walks, patch, limits)[known.dents];
    known.dents++;
    if (!dent) continue;
    dents.push(dent);
    excessM2 -= PROMISED_SHARE * patch.areaM2;
  }
  return dents;
}

/** Dry ground beyond what the goal allows, m2; negative where there is less. */
function excessDryM2({ drawing, judgement }: Laid, { goal }: LoopRequest): number {
  const dryM2 = judgement.dry.reduce((sum, patch) => sum + patch.areaM2, 0);
  return dryM2 - (1 - goal.coveredRatio) * groundM2(drawing.candidate.frame.ground);
}

/**
 * The loops with those dents that pay: all at once; where some do not, again without them; where that makes the loops no better, or bent
 * corners tear one, in halves.
 */
function withPaying(
  laid: Sampled,
  dents: readonly Dent[],
  request: LoopRequest,
  spacingM: number,
  halvings = MOST_HALVINGS,
): Sampled {
  if (dents.length === 0) return laid;
  const inHalves = (some: readonly Dent[]): Sampled => {
    if (some.length < 2 || halvings === 0) return laid;
    const half = some.length >> 1;
    const first = withPaying(laid, some.slice(0, half), request, spacingM, halvings - 1);
    return withPaying(first, some.slice(half), request, spacingM, halvings - 1);
  };
  const next = withDents(laid, dents, request, spacingM);
  if (!next) return inHalves(dents);
  const paying = dents.filter((dent) => pays(dent, laid, next, spacingM));
  if (paying.length === 0) return laid;
  const kept = paying.length === dents.length ? next : withDents(laid, paying, request, spacingM);
  return kept && isBetter(kept, laid) ? kept : inHalves(paying);
}

/**
 * The dents that all can be made without tearing a loop, those given first before others. Making them takes a hundredth of the time
 * that bending their corners does, so the ones that tear are weeded out first.
 */
function untorn(rings: readonly Ring[], dents: readonly Dent[], kept: readonly Dent[] = []): readonly Dent[] {
  if (dents.length === 0) return kept;
  const all = [...kept, ...dents];
  if (dentRings(rings, all).every((region) => region.length === 1)) return all;
  if (dents.length === 1) return kept;
  const half = dents.length >> 1;
  return untorn(rings, dents.slice(half), untorn(rings, dents.slice(0, half), kept));
}

/** A mend that lays runs nearer than they may be mends nothing, however much it waters. */
const isBetter = (next: Laid, best: Laid): boolean =>
  next.costM < best.costM && next.judgement.closePlaces <= best.judgement.closePlaces;

function withDents(
  laid: Sampled,
  dents: readonly Dent[],
  request: LoopRequest,
  spacingM: number,
): Sampled | null {
  const { ground } = laid.drawing.candidate.frame;
  const rings: Ring[] = [];
  for (const [index, [outline, ...torn]] of dentRings(laid.rings, dents).entries()) {
    if (!outline || torn.length > 0) return null;
    if (outline === laid.rings[index]) {
      rings.push(outline);
      continue;
    }
    const shaped = bendAgain(outline, ground, laid.bendRadiusM, request.minSeparationM);
    if (!shaped || shaped.lost.length > 0) return null;
    rings.push(shaped.ring);
  }
  return withRings(laid, rings, request, spacingM);
}

/** Does a dent water ground about its patch, and bring no runs nearer there than they may be? */
function pays(dent: Dent, before: Laid, after: Laid, spacingM: number): boolean {
  const within =
    (ratio: number) =>
    (point: PlanPoint): boolean =>
      distanceM(point, dent.at) < ratio * spacingM;
  const dryPoints = ({ judgement }: Laid): number =>
    judgement.dry.reduce((sum, patch) => sum + patch.points.filter(within(LOOKED_AT_RATIO)).length, 0);
  const closePoints = ({ judgement }: Laid): number => judgement.close.filter(within(BENT_RATIO)).length;
  return (
    dryPoints(after) <= (1 - LEAST_WATERED_SHARE) * dryPoints(before) &&
    closePoints(after) <= closePoints(before)
  );
}

function pullOver(laid: Sampled, request: LoopRequest, spacingM: number): Sampled {
  const { ground } = laid.drawing.candidate.frame;
  const limits = { ground, spacingM, minSeparationM: request.minSeparationM };
  let best = laid;
  for (let round = 0; round < MOST_PULLS; round++) {
    const { close } = best.judgement;
    const limitRatio = excessDryM2(best, request) > 0 ? FAIR_GAP_RATIO : request.goal.gapRatio;
    const dry = best.judgement.dry.filter((patch) => isWorthPulling(patch, limitRatio * spacingM, spacingM));
    if (dry.length === 0 && close.length === 0) break;
    const pulled = best.rings.map((ring) => repairLoop(ring, { dry, close }, limits));
    const tried = pulled.flatMap((ring, index) => {
      if (ring === best.rings[index]) return [ring];
      const bent = bendAgain(ring, ground, laid.bendRadiusM, request.minSeparationM);
      return bent && bent.lost.length === 0 ? [bent.ring] : [];
    });
    if (tried.length !== best.rings.length) break;
    const next = withRings(best, tried, request, spacingM);
    if (!isBetter(next, best)) break;
    best = next;
  }
  return best;
}

/**
 * Is a dry patch a spot that a row may be pulled towards? A long stripe beside a row is not: pulled at its middle the row
 * would bulge, and be no better elsewhere.
 */
function isWorthPulling(patch: DryPatch, limitM: number, spacingM: number): boolean {
  const longestM = Math.max(...patch.points.map((point) => distanceM(point, patch.at)));
  return patch.distanceM > limitM && longestM < LONGEST_PULLED_RATIO * spacingM;
}
