import { type MultiPolygon, type Polygon, pointInRing, polygonAreaM2 } from '../geometry';
import type { Problem } from '../units';
import { candidatesFor } from './candidates';
import { byFitness, choose } from './choosing';
import { frameOfBed, inputInFrame, layoutOnPlan } from './inOwnFrame';
import { type Judged, type JudgingGround, judge } from './judging';
import { lockedLayout } from './locked';
import { type BedPart, bedParts } from './parts';
import { withPlantSpurs } from './plantSpurs';
import { choiceProblems, layoutProblems, repairProblems, stretchProblems } from './reporting';
import type { BedLayout, Coverage, LayoutInput, RouteMemory, Verification } from './types';

const NO_COVERAGE: Coverage = { coveredRatio: 0, maxGapM: 0, gaps: [], worstPhaseOverlapRatio: 0 };
const NOT_VERIFIED: Verification = {
  passed: false,
  crossings: 0,
  worstClearanceM: 0,
  separationM: 0,
  minBendRadiusM: 0,
  closed: false,
  failures: [],
};

/**
 * Lays tubing in one bed: outline mended, usable ground found, layouts tried, each held against the verifier, one taken.
 * One answer for each sound part of the bed (a bow-tie has two).
 *
 * The work is done in a frame of the bed's own, so that the same bed moved, turned or mirrored gets the same route.
 *
 * A part that cannot be laid comes back `refused` with a named problem; nothing that fails the verifier is given as routed,
 * save a route the designer locked, which is kept and reported.
 */
export function layoutBed(input: LayoutInput): readonly BedLayout[] {
  // What was drawn by hand is kept to the digit.
  const frame = input.locked === null ? (input.previous?.frame ?? frameOfBed(input)) : null;
  if (frame === null) return layoutAsDrawn(input);
  return layoutAsDrawn(inputInFrame(input, frame)).map((layout) => layoutOnPlan(layout, input, frame));
}

function layoutAsDrawn(input: LayoutInput): readonly BedLayout[] {
  const { parts, clean } = bedParts(input);
  const repairs = repairProblems(input, clean);
  if (parts.length === 0)
    return [refusal(input, null, [...repairs, stop('layout.no-area', input.bedId, {})])];
  return parts.map((part) => layoutPart(part, parts.length, input, repairs));
}

function layoutPart(
  part: BedPart,
  partCount: number,
  input: LayoutInput,
  repairs: readonly Problem[],
): BedLayout {
  if (input.locked) {
    const locked = lockedLayout(part, partCount, input);
    if (locked) {
      const ground = { idPrefix: part.id, usable: part.usable, trees: [] };
      const spurred = withPlantSpurs(locked, input, ground);
      return finish(
        part,
        input,
        spurred.judged,
        [],
        [
          ...repairs,
          ...layoutProblems(part, input, spurred.judged),
          ...spurred.without.map((plant) => noSpur(part, plant)),
        ],
      );
    }
  }
  if (part.routable.length === 0)
    return refusal(input, part, [
      ...repairs,
      stop('layout.too-small', part.id, { areaM2: part.areaM2, usableAreaM2: part.usableAreaM2 }),
    ]);
  const pieces = part.routable.map((piece) =>
    candidatesFor(piece, usableUnder(piece, part), input, part.id, treesIn(piece, part)),
  );
  const choices = pieces.map((piece) => choose(piece.judged, input));
  const leadIndex = choices.findIndex((choice) => choice !== null);
  const lead = choices[leadIndex];
  if (!lead && input.quality === 'preview')
    return layoutPart(part, partCount, { ...input, quality: 'finished' }, repairs);
  if (!lead) return refusal(input, part, [...repairs, whyNone(part, pieces)]);
  const extras = choices.flatMap((choice, index) => (choice && index !== leadIndex ? [choice.chosen] : []));
  const ground = { idPrefix: part.id, usable: part.usable, trees: part.trees };
  const whole = (judged: Judged): Judged => joinPieces(judged, extras, input, ground);
  const chosen = pieces.length === 1 ? lead.chosen : whole(lead.chosen);
  if (!chosen.alternative.valid) return refusal(input, part, [...repairs, failedRoute(part, chosen)]);
  const spurred = withPlantSpurs(chosen, input, ground);
  const others = pieces.length === 1 ? lead.others : lead.others.map(whole);
  return finish(part, input, spurred.judged, byFitness(others.filter((judged) => judged.alternative.valid)), [
    ...repairs,
    ...choiceProblems(part, input, lead.wish, chosen),
    ...stretchProblems(part, input, chosen, others),
    ...layoutProblems(part, input, spurred.judged),
    ...spurred.without.map((plant) => noSpur(part, plant)),
  ]);
}

/** The main piece's layout with those of the other pieces; a piece that would spoil the whole is left out and stays dry. */
function joinPieces(
  main: Judged,
  extras: readonly Judged[],
  input: LayoutInput,
  ground: JudgingGround,
): Judged {
  const { key } = main.alternative;
  const all = judge(key, [...main.sketches, ...extras.flatMap((extra) => extra.sketches)], input, ground);
  if (all.alternative.valid) return all;
  let best = judge(key, main.sketches, input, ground);
  let kept = [...main.sketches];
  for (const extra of extras) {
    const next = judge(key, [...kept, ...extra.sketches], input, ground);
    if (!next.alternative.valid) continue;
    best = next;
    kept = [...kept, ...extra.sketches];
  }
  return best;
}

function treesIn(piece: Polygon, part: BedPart): LayoutInput['trees'] {
  if (part.routable.length === 1) return part.trees;
  return part.trees.filter((tree) => pointInRing(tree.at, piece.outer));
}

/** The usable ground that a routable piece lies in: what it is to water. */
function usableUnder(piece: Polygon, part: BedPart): MultiPolygon {
  return part.routable.length === 1 ? part.usable : [piece];
}

function whyNone(
  part: BedPart,
  pieces: readonly { judged: readonly Judged[]; refused: string | null }[],
): Problem {
  const failed = byFitness(pieces.flatMap((piece) => piece.judged))[0];
  if (failed) return failedRoute(part, failed);
  const refused = pieces.find((piece) => piece.refused !== null)?.refused;
  return stop(refused ?? 'layout.too-small', part.id, {
    areaM2: part.areaM2,
    usableAreaM2: part.usableAreaM2,
    widestM: Math.sqrt(polygonAreaM2(part.routable[0]!)),
  });
}

const stop = (code: string, id: string, params: Problem['params']): Problem => ({
  code,
  severity: 'stop',
  where: { id },
  params,
});

const noSpur = (part: BedPart, plant: string): Problem => ({
  code: 'layout.no-spur',
  severity: 'warn',
  where: { id: plant },
  params: { bed: part.id, plant },
});

const failedRoute = (part: BedPart, judged: Judged): Problem =>
  stop('layout.no-route', part.id, { failures: judged.verification.failures, key: judged.alternative.key });

function finish(
  part: BedPart,
  input: LayoutInput,
  chosen: Judged,
  others: readonly Judged[],
  problems: readonly Problem[],
): BedLayout {
  const { alternative } = chosen;
  return {
    bedId: part.id,
    status: 'routed',
    areaM2: part.areaM2,
    usable: part.usable,
    usableAreaM2: part.usableAreaM2,
    outline: [part.outline],
    layout: alternative.layout,
    nominalRowSpacingM: input.rowSpacingM,
    rowSpacingM: alternative.rowSpacingM,
    directionRad: alternative.directionRad,
    stubUp: chosen.stubUp,
    runs: alternative.runs,
    joins: alternative.joins,
    coverage: alternative.coverage,
    chosen: alternative.key,
    alternatives: others.map((judged) => judged.alternative),
    ruleOfThumbLengthM: part.areaM2 / input.rowSpacingM,
    memory: memoryOf(chosen),
    problems,
    verified: chosen.verification,
  };
}

function memoryOf({ alternative, sketches }: Judged): RouteMemory {
  const { layout, directionRad, rowSpacingM, key } = alternative;
  const topology = sketches[0]?.topology;
  return { layout, directionRad, rowSpacingM, key, ...(topology === undefined ? {} : { topology }) };
}

function refusal(input: LayoutInput, part: BedPart | null, problems: readonly Problem[]): BedLayout {
  return {
    bedId: part?.id ?? input.bedId,
    status: 'refused',
    areaM2: part?.areaM2 ?? 0,
    usable: part?.usable ?? [],
    usableAreaM2: part?.usableAreaM2 ?? 0,
    outline: part ? [part.outline] : [],
    layout: input.layout ?? 'loop',
    nominalRowSpacingM: input.rowSpacingM,
    rowSpacingM: input.rowSpacingM,
    directionRad: input.rowDirectionRad ?? 0,
    stubUp: input.stubUp ?? input.rings[0]?.points[0] ?? { x: 0, y: 0 },
    runs: [],
    joins: [],
    coverage: NO_COVERAGE,
    chosen: '',
    alternatives: [],
    ruleOfThumbLengthM: (part?.areaM2 ?? 0) / input.rowSpacingM,
    memory: null,
    problems,
    verified: NOT_VERIFIED,
  };
}
