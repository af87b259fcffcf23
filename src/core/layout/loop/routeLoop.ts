import {
  beginClosedPathAt,
  closeRing,
  inflateRings,
  intersectRings,
  nearestOnPath,
  nestRings,
  orientRing,
  type Polygon,
  polygonAreaM2,
  polylineLengthM,
  quantisePoints,
  type Region,
  type Ring,
  ringsOf,
} from '../../geometry';
import { findBridges } from './bridges';
import { StepBudget } from './budget';
import { type Candidate, findCandidates, fromFrame } from './candidates';
import { closeRuns, countTurns, dryPatches, groundM2 } from './defects';
import { joinOutlines, outlineOf, tidyOutline } from './outline';
import type { LoopDefect, LoopRequest, LoopRoute, RoutedLoop, TraceLayer } from './request';
import { roundCorners } from './rounding';
import { cutComb } from './teeth';
import { spanTeeth } from './tree';

const DEFAULT_STEPS = 4000;

/**
 * One closed loop of tubing through each part of the ground that two runs can reach: the outline of a comb of rows.
 * Closed, free of crossings and on the ground by construction; what is not as wanted comes back as defects.
 *
 * Fails: `refused` says why there is no loop: too narrow for two runs anywhere, or the step budget was spent before any
 * route was found.
 */
export function routeLoop(request: LoopRequest): LoopRoute {
  const budget = new StepBudget(request.stepBudget ?? DEFAULT_STEPS);
  const trace: TraceLayer[] | null = request.trace ? [] : null;
  const parts = reachableParts(request);
  trace?.push({ name: 'reachable', rings: ringsOf(parts).map(closeRing) });
  const routes = parts.flatMap((part, index) => {
    const best = routePart(part, request, budget, trace);
    return best ? [{ ...best, part: index }] : [];
  });
  const first = routes[0];
  if (!first)
    return {
      ...emptyRoute(request),
      reachableParts: parts.length,
      refused: budget.isSpent ? 'layout.too-complex' : 'layout.too-narrow',
      ...(trace ? { trace } : {}),
    };
  const loops = routes.flatMap((route) => route.rings.map((ring) => toLoop(ring, route.part, request)));
  return {
    loops,
    directionRad: first.candidate.directionRad,
    rowSpacingM: widestRowM(first.candidate.levels),
    rows: routes.reduce((rows, route) => rows + route.candidate.levels.length, 0),
    turns: loops.reduce((turns, loop) => turns + countTurns(loop.path, request.rowSpacingM), 0),
    key: first.candidate.key,
    defects: findDefects(loops, request),
    reachableParts: parts.length,
    ...(trace ? { trace } : {}),
  };
}

function emptyRoute(request: LoopRequest): LoopRoute {
  return {
    loops: [],
    directionRad: request.directionRad ?? 0,
    rowSpacingM: request.rowSpacingM,
    rows: 0,
    turns: 0,
    key: '',
    defects: [],
    reachableParts: 0,
  };
}

/** Parts of the routable ground that two runs can reach: what is left when everything thinner than the separation goes. */
function reachableParts(request: LoopRequest): Polygon[] {
  const routable = ringsOf(request.routable ?? request.usable);
  const shrinkM = 0.49 * request.minSeparationM;
  const thick = inflateRings(inflateRings(routable, -shrinkM, 'miter'), shrinkM, 'miter');
  return nestRings(intersectRings(thick, routable))
    .filter((part) => polygonAreaM2(part) > 1.2 * request.minSeparationM * request.rowSpacingM)
    .sort((one, other) => polygonAreaM2(other) - polygonAreaM2(one));
}

interface PartRoute {
  readonly candidate: Candidate;
  /** In plan metres. */
  readonly rings: readonly Ring[];
  readonly costM: number;
}

function routePart(
  part: Polygon,
  request: LoopRequest,
  budget: StepBudget,
  trace: TraceLayer[] | null,
): PartRoute | null {
  const candidates = findCandidates(part, request, request.rowSpacingM);
  const drawn = request.quality === 'preview' ? 4 : 12;
  let best: PartRoute | null = null;
  for (const candidate of candidates.slice(0, drawn)) {
    if (budget.isSpent) break;
    budget.spend(1 + candidate.frame.ground.reduce((points, ring) => points + ring.length, 0) / 1000);
    const route = drawCandidate(candidate, request, null);
    if (route && (!best || route.costM < best.costM)) best = route;
  }
  if (best && trace) drawCandidate(best.candidate, request, trace);
  return best;
}

function drawCandidate(
  candidate: Candidate,
  request: LoopRequest,
  trace: TraceLayer[] | null,
): PartRoute | null {
  const { frame } = candidate;
  const separationM = request.minSeparationM;
  const spacingM = request.rowSpacingM;
  const layer = (name: string, region: Region): void => {
    trace?.push({ name, rings: region.map((ring) => closeRing(fromFrame(ring, frame))) });
  };
  const comb = cutComb(frame.ground, candidate.levels, separationM);
  if (comb.teeth.length === 0) return null;
  layer(
    'teeth',
    comb.teeth.map((tooth) => tooth.outer),
  );
  const bridges = findBridges(comb, { side: candidate.side, spacingM, minSeparationM: separationM });
  const tree = spanTeeth(comb.teeth.length, bridges);
  layer(
    'bridges',
    tree.bridges.flatMap((bridge) => bridge.region),
  );
  const outlines = tree.groups.flatMap((group) => {
    const members = new Set(group);
    return outlineOf(
      comb,
      group,
      tree.bridges.filter((bridge) => members.has(bridge.lower)),
    );
  });
  layer('outlines', outlines);
  const tidy = outlines.flatMap((outline) => {
    const { ring, lost } = tidyOutline(outline, comb.ground, separationM);
    return [...(ring ? [ring] : []), ...lost];
  });
  const joined = joinOutlines(tidy, frame.ground, spacingM, separationM);
  const rounded = joined.flatMap((outline) => {
    const ring = roundTo(outline, comb.ground, request.bendRadiusM);
    return ring ? [ring] : [];
  });
  if (rounded.length === 0) return null;
  layer('rounded', rounded);
  const costM = costOf(rounded, frame.ground, request);
  return {
    candidate,
    costM,
    rings: rounded.map((ring) => fromFrame(ring, frame)),
  };
}

/** Rounded to the tubing's own bend where that can be, else a little tighter: a tight bend is reported, a torn loop never laid. */
function roundTo(outline: Ring, ground: Region, bendRadiusM: number): Ring | null {
  for (const share of [1, 0.8, 0.6, 0.4]) {
    const ring = roundCorners(outline, ground, share * bendRadiusM);
    if (ring) return ring;
  }
  return null;
}

function costOf(rings: readonly Ring[], ground: Region, request: LoopRequest): number {
  const spacingM = request.rowSpacingM;
  const paths = rings.map(closeRing);
  const lengthM = paths.reduce((sum, path) => sum + polylineLengthM(path), 0);
  const turns = paths.reduce((sum, path) => sum + countTurns(path, spacingM), 0);
  const dry = dryPatches(rings, ground, spacingM);
  const dryM2 = dry.reduce((sum, patch) => sum + patch.areaM2, 0);
  const furthestM = dry.reduce((furthest, patch) => Math.max(furthest, patch.distanceM), 0);
  const idealM = groundM2(ground) / spacingM;
  return (
    lengthM +
    (request.turnWeightM ?? 1) * turns +
    (12 * dryM2) / spacingM +
    2 * idealM * Math.max(0, furthestM / spacingM - 0.62) +
    0.5 * idealM * (rings.length - 1)
  );
}

function widestRowM(levels: readonly number[]): number {
  let widest = 0;
  for (let index = 1; index < levels.length; index++)
    widest = Math.max(widest, levels[index]! - levels[index - 1]!);
  return widest;
}

function toLoop(ring: Ring, part: number, request: LoopRequest): RoutedLoop {
  const closed = closeRing(orientRing(ring, 'anticlockwise'));
  const begun = request.stubUp
    ? beginClosedPathAt(closed, nearestOnPath(request.stubUp, closed).alongM)
    : closed;
  const path = closeRing(quantisePoints(begun.slice(0, -1)));
  return { path, lengthM: polylineLengthM(path), bendRadiusM: request.bendRadiusM, part };
}

function findDefects(loops: readonly RoutedLoop[], request: LoopRequest): LoopDefect[] {
  const paths = loops.map((loop) => loop.path);
  const rings = paths.map((path) => path.slice(0, -1));
  const dry: LoopDefect[] = dryPatches(rings, ringsOf(request.usable), request.rowSpacingM).map((patch) => ({
    kind: 'dry',
    at: patch.at,
    valueM: patch.distanceM,
    areaM2: patch.areaM2,
  }));
  const close: LoopDefect[] = closeRuns(paths, request.rowSpacingM, request.minSeparationM).map((runs) => ({
    kind: 'close',
    at: runs.one,
    valueM: runs.distanceM,
  }));
  return [...dry, ...close];
}
