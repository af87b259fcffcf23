import {
  distanceM,
  nearestOnPath,
  type PlanPoint,
  pointAlong,
  pointBetween,
  pointInMultiPolygon,
} from '../geometry';
import { itemName, type LockedPipe, type Plan } from '../plan';
import type { Problem } from '../units';
import type { Branch } from './pipeTree';
import { type Site, spansInside, structureGround } from './site';

/** A zone as a header drawn by hand may belong to it. */
export interface HeaderEnds {
  readonly id: string;
  readonly zoneKey: string | null;
  readonly assemblyAt: PlanPoint;
  readonly stubUps: readonly { readonly at: PlanPoint }[];
}

const isKeyOf = (key: string, zone: { readonly id: string; readonly zoneKey: string | null }): boolean =>
  key === zone.zoneKey || key === zone.id;

/** How far a header lies from a zone: from its assembly to an end, and from the nearest of its stub-ups. */
function awayFromZoneM({ path }: LockedPipe, zone: HeaderEnds): number {
  const ends = [path[0], path.at(-1)].filter((end) => end !== undefined);
  const fromBoxM = Math.min(...ends.map((end) => distanceM(end, zone.assemblyAt)));
  return fromBoxM + Math.min(...zone.stubUps.map(({ at }) => nearestOnPath(at, path).distanceM));
}

/**
 * Which header drawn by hand leads the water of which zone: of the one it names, else of the one it lies nearest to, so
 * that it stays with its valve and its beds when zones are numbered anew. One that names a zone there is not leads none.
 */
export function headersByZone(
  pipes: readonly LockedPipe[],
  zones: readonly HeaderEnds[],
): Map<string, LockedPipe[]> {
  const found = new Map<string, LockedPipe[]>();
  for (const pipe of pipes) {
    if (pipe.role !== 'header') continue;
    const key = pipe.zoneKey;
    const zone =
      key === null
        ? [...zones].sort((a, b) => awayFromZoneM(pipe, a) - awayFromZoneM(pipe, b))[0]
        : zones.find((one) => isKeyOf(key, one));
    if (zone) found.set(zone.id, [...(found.get(zone.id) ?? []), pipe]);
  }
  return found;
}

/** A pipe may come this far through the wall that its end hangs on. */
const THROUGH_WALL_M = 0.3;
/** Pipe beyond the last thing fed that is shorter than this is an end, not a dead leg: half a foot. */
const DEAD_LEG_M = 0.1524;
/** A branch this near a pipe drawn by hand is that pipe: the drawing's grid. */
const DRAWN_M = 0.001;

/** What stands in the ground at a place, as a person calls it. */
function standingAt(plan: Plan, at: PlanPoint): string {
  const structure = Object.values(plan.structures).find(
    (one) =>
      (one.kind === 'building' || one.kind === 'obstacle') && pointInMultiPolygon(at, structureGround(one)),
  );
  if (structure) return itemName(plan, 'structures', structure.id);
  const tree = Object.values(plan.trees).find((one) => distanceM(one.at, at) <= one.trunkRadiusM);
  if (tree) return itemName(plan, 'trees', tree.id);
  const plant = Object.values(plan.plants).find((one) => distanceM(one.at, at) <= one.rootBallRadiusM);
  return plant ? itemName(plan, 'plants', plant.id) : '';
}

/** Middle of the first stretch of a pipe that goes through what no trench may cross; null where there is none. */
function throughSolidAt({ path }: LockedPipe, site: Site): PlanPoint | null {
  for (let index = 1; index < path.length; index++) {
    const [a, b] = [path[index - 1]!, path[index]!];
    const lengthM = distanceM(a, b);
    const span = spansInside(site.solid, a, b).find(([from, to]) => {
      const isEnd = (index === 1 && from === 0) || (index === path.length - 1 && to === 1);
      return !isEnd || (to - from) * lengthM > THROUGH_WALL_M;
    });
    if (span) return pointBetween(a, b, (span[0] + span[1]) / 2);
  }
  return null;
}

const letBeFound = (id: string) => ({
  words: 'supply.mend-let-pipe-be-found',
  command: 'remove-items',
  params: { items: [{ map: 'lockedPipes', id }] },
});

interface LaidPipes {
  readonly branches: readonly Branch[];
  readonly locked: readonly LockedPipe[];
}

function throughSolid(plan: Plan, site: Site, pipes: readonly LockedPipe[]): Problem[] {
  return pipes.flatMap((pipe): Problem[] => {
    const at = throughSolidAt(pipe, site);
    if (at === null) return [];
    return [
      {
        code: 'supply.drawn-pipe-through',
        severity: 'warn',
        where: { id: pipe.id, x: at.x, y: at.y },
        params: { pipe: itemName(plan, 'lockedPipes', pipe.id), through: standingAt(plan, at) },
        mends: [letBeFound(pipe.id)],
      },
    ];
  });
}

function deadLegs(plan: Plan, { branches, locked }: LaidPipes): Problem[] {
  return branches
    .filter((branch) => branch.locked && branch.feeds.length === 0 && branch.lengthM > DEAD_LEG_M)
    .flatMap((branch): Problem[] => {
      const middle = pointAlong(branch.path, branch.lengthM / 2).at;
      const pipe = locked.find(({ path }) => nearestOnPath(middle, path).distanceM < DRAWN_M);
      if (!pipe) return [];
      return [
        {
          code: 'supply.drawn-pipe-feeds-nothing',
          severity: 'warn',
          where: { id: pipe.id, x: middle.x, y: middle.y },
          params: { pipe: itemName(plan, 'lockedPipes', pipe.id), lengthM: branch.lengthM },
          mends: [letBeFound(pipe.id)],
        },
      ];
    });
}

/**
 * What is wrong with pipe drawn by hand, which is kept as drawn all the same: where it goes through what no trench may
 * cross, where it leads water to nothing, and where it names a zone there is not. Mend: let the program find it.
 *
 * @param sourceAt null: no connection is drawn, so there is no main to lead
 */
export function drawnPipeProblems(
  plan: Plan,
  site: Site,
  sourceAt: PlanPoint | null,
  zones: readonly (LaidPipes & { readonly id: string; readonly zoneKey: string | null })[],
  main: LaidPipes,
): Problem[] {
  const headers = zones.flatMap(({ locked }) => locked);
  const strays = Object.values(plan.lockedPipes)
    .filter(({ role }) => role !== 'main')
    .filter(({ zoneKey: key }) => key !== null && !zones.some((zone) => isKeyOf(key, zone)));
  return [
    ...throughSolid(plan, site, sourceAt ? [...main.locked, ...headers] : headers),
    ...[...zones, main].flatMap((laid) => deadLegs(plan, laid)),
    ...strays.map(
      (pipe): Problem => ({
        code: 'supply.drawn-pipe-of-no-zone',
        severity: 'warn',
        where: pipe.path[0] ? { id: pipe.id, ...pipe.path[0] } : { id: pipe.id },
        params: { pipe: itemName(plan, 'lockedPipes', pipe.id), zone: pipe.zoneKey ?? '' },
        mends: [
          {
            words: 'supply.mend-pipe-nearest-zone',
            command: 'change-items',
            params: { items: [{ map: 'lockedPipes', id: pipe.id }], changes: { zoneKey: null } },
          },
          letBeFound(pipe.id),
        ],
      }),
    ),
  ];
}
