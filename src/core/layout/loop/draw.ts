import { closeRing, type Region, type Ring, ringAreaM2, ringLengthM } from '../../geometry';
import { type Bridge, bridgesOnSide, type Crossing, crossingsOf } from './bridges';
import { type Candidate, fromFrame } from './candidates';
import { groundM2, type SampledGround, samplesOf } from './defects';
import { type Judgement, judgeRings, UNJUDGED } from './judgement';
import { joinOutlines, outlineOf } from './outline';
import type { LoopRequest, TraceLayer } from './request';
import { type Shaped, type ShapedLoops, shapeAll, shapeOutline } from './shape';
import { splitTree } from './split';
import { type Comb, cutComb } from './teeth';
import { spanTeeth, type Tree } from './tree';

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

/** Teeth of rows at some levels and what may join them, by those levels: the same whichever side their bridges lie on. */
export type Combs = Map<readonly number[], { readonly comb: Comb; readonly crossings: readonly Crossing[] }>;

/**
 * Draws the teeth and bridges of a candidate; null where it has none.
 *
 * @param combs  what other candidates for the same ground were drawn from; what this one is drawn from is added
 */
export function drawCandidate(
  candidate: Candidate,
  request: LoopRequest,
  spacingM: number,
  combs: Combs,
): Drawing | null {
  const { frame } = candidate;
  let cut = combs.get(candidate.levels);
  if (!cut) {
    const comb = cutComb(frame.ground, candidate.levels, request.minSeparationM);
    cut = { comb, crossings: crossingsOf(comb, { spacingM, minSeparationM: request.minSeparationM }) };
    combs.set(candidate.levels, cut);
  }
  const { comb, crossings } = cut;
  if (comb.teeth.length === 0) return null;
  const tree = spanTeeth(comb.teeth.length, bridgesOnSide(crossings, candidate.side));
  const outlines = outlinesOf(comb, tree);
  const limitM = request.maxLoopLengthM;
  const splitCostM = limitM === null ? 0 : splitTree(tree, comb.teeth, limitM).costM;
  const bridgeCostM = tree.bridges.reduce((sum, bridge) => sum + bridge.cost, 0) * 0.5 * spacingM;
  const costM =
    outlines.reduce((sum, ring) => sum + ringLengthM(ring), 0) +
    (request.turnWeightM ?? 1) * 2 * comb.teeth.length +
    bridgeCostM +
    candidate.dryCostM +
    splitCostM +
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
    const { tree } = splitTree(drawing.tree, drawing.comb.teeth, limitM, extraCuts);
    const shaped = shapeAll(outlinesOf(drawing.comb, tree), drawing.candidate.frame.ground, request);
    if (shaped.rings.length === 0) continue;
    best = { shaped, tree };
    if (shaped.rings.every((ring) => ringLengthM(ring) <= limitM)) break;
  }
  return best ? asLaid(best.shaped, { ...drawing, tree: best.tree }, request, spacingM) : null;
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
  if (pieces.length + torn.rings.length < 2) return null;
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

/** Beside others a loop round less than this share of a square of a row and the least separation is a stub of tubing, not a loop: it takes a spur. */
const LEAST_LOOP_RATIO = 0.9;

function asLaid(torn: ShapedLoops, drawing: Drawing, request: LoopRequest, spacingM: number): Laid {
  const leastM2 = LEAST_LOOP_RATIO * request.minSeparationM * spacingM;
  const large = torn.rings.filter((ring) => ringAreaM2(ring) >= leastM2);
  const shaped = large.length > 0 ? { ...torn, rings: large } : torn;
  const { ground } = drawing.candidate.frame;
  if (request.quality === 'following')
    return { drawing, ...shaped, costM: 0, samples: null, judgement: UNJUDGED };
  const samples = samplesOf(ground, spacingM);
  const judgement = judgeRings(shaped.rings, samples, groundM2(ground) / spacingM, request, spacingM);
  return { drawing, ...shaped, costM: judgement.costM, samples, judgement };
}
