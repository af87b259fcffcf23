import type { Catalog, Pipe } from '../catalog';
import { nearestOnPath, pointAlong } from '../geometry';
import { type PreparedNetwork, prepareNetwork, withFigures } from '../hydraulics';
import type { LockedPipe, Plan } from '../plan';
import type { Steps } from '../units';
import { buildZoneNetwork, type SizedBranch, type ZoneNetwork, type ZonePlumbing } from './network';
import type { Branch } from './pipeTree';
import { nextSize, pipesOf, sizeByVelocity } from './sizing';
import { type SolvedZone, solveZoneSteps } from './solveZone';
import type { ServedBed } from './types';

/** Rounds of solving and widening before the sizes are left as they are. */
const MOST_ROUNDS = 8;
/** Widening stops once the emitter worst off has this much over its least head. */
const MARGIN_M = 0.35;
/** A pipe that loses less than this is not what keeps an emitter short. */
const WORTH_WIDENING_M = 0.05;

/** A branch this near a pipe drawn by hand is that pipe: the drawing's grid. */
const DRAWN_M = 0.001;

/** The size drawn for a branch locked by hand, where the pipe it was drawn as names one. */
function drawnSize(catalog: Catalog, branch: Branch, locked: readonly LockedPipe[]): Pipe | null {
  if (!branch.locked) return null;
  const middle = pointAlong(branch.path, branch.lengthM / 2).at;
  const drawn = locked.find(({ path }) => nearestOnPath(middle, path).distanceM < DRAWN_M);
  return catalog.pipes.find(({ id }) => id === drawn?.pipeId) ?? null;
}

/** Branches with the thinnest pipe their flow and the velocity limit allow; locked pipes keep the size drawn. */
export function sizeBranches(input: {
  readonly plan: Plan;
  readonly pipes: readonly Pipe[];
  readonly branches: readonly Branch[];
  readonly idPrefix: string;
  readonly depthM: number;
  readonly catalog: Catalog;
  readonly locked: readonly LockedPipe[];
  readonly flowOf: (feeds: readonly string[]) => number;
}): SizedBranch[] {
  return input.branches.map((branch, index) => ({
    id: `${input.idPrefix}${index + 1}`,
    branch,
    pipe:
      drawnSize(input.catalog, branch, input.locked) ??
      sizeByVelocity(input.plan, input.pipes, input.flowOf(branch.feeds)),
    depthM: input.depthM,
  }));
}

/** A zone sized and solved, with how many rounds it took. */
export interface SizedZone {
  readonly plumbing: ZonePlumbing;
  readonly network: ZoneNetwork;
  readonly prepared: PreparedNetwork;
  readonly solved: SolvedZone;
  readonly iterations: number;
}

/**
 * Solves the zone and, while the emitter worst off lacks its least head, widens the header that loses most, one size a
 * round, bounded. Pipe drawn and sized by hand is never touched.
 */
export function* sizeAndSolveSteps(
  catalog: Catalog,
  plumbing: ZonePlumbing,
  beds: readonly ServedBed[],
): Steps<SizedZone> {
  const pipes = pipesOf(catalog, plumbing.headerPipe.material);
  const cv = Math.max(0, ...beds.map(({ dripline }) => dripline.emitter.variationCv));
  let current = plumbing;
  let network = buildZoneNetwork(current, beds, catalog);
  yield;
  let prepared = prepareNetwork(network.network);
  yield;
  let solved = yield* solveZoneSteps(network, prepared, cv);
  let iterations = 1;
  while (
    iterations < MOST_ROUNDS &&
    solved.solution.status === 'settled' &&
    solved.worst.shortM > -MARGIN_M
  ) {
    yield;
    const widened = widenWorst(current, network, solved, pipes);
    if (!widened) break;
    current = widened;
    network = buildZoneNetwork(current, beds, catalog);
    prepared = withFigures(prepared, network.network);
    solved = yield* solveZoneSteps(network, prepared, cv, solved.solution);
    iterations++;
  }
  return { plumbing: current, network, prepared, solved, iterations };
}

function widenWorst(
  plumbing: ZonePlumbing,
  network: ZoneNetwork,
  solved: SolvedZone,
  pipes: readonly Pipe[],
): ZonePlumbing | null {
  const link = new Map(network.network.links.map(({ id }, index) => [id, index]));
  const losses = plumbing.headers
    .map((header, index) => ({
      index,
      lossM: Math.abs(solved.solution.headlossM[link.get(header.id)!]!),
      next: header.branch.locked ? null : nextSize(pipes, header.pipe),
    }))
    .filter(({ lossM, next }) => next !== null && lossM > WORTH_WIDENING_M)
    .sort((a, b) => b.lossM - a.lossM || a.index - b.index);
  const worst = losses[0];
  if (!worst) return null;
  return {
    ...plumbing,
    headers: plumbing.headers.map((header, index) =>
      index === worst.index ? { ...header, pipe: worst.next! } : header,
    ),
  };
}
