import { distanceM, type PlanPoint, type Polyline } from '../geometry';
import type { LockedPipe, Plan, Valve } from '../plan';
import type { Steps } from '../units';
import { headersByZone } from './drawnPipes';
import type { HeightAt } from './elevation';
import { lowPoints } from './lowPoints';
import { type Branch, branchesOf, growTreeSteps, type PipeTree } from './pipeTree';
import { middleOfPoints, outsideBlocked, placeBox } from './place';
import type { Site } from './site';
import { TrenchGraph } from './trenchGraph';

/** What routing needs to know of a zone. */
export interface ZoneEnds {
  readonly id: string;
  readonly zoneKey: string | null;
  readonly stubUps: readonly { readonly bedId: string; readonly at: PlanPoint }[];
}

/** A zone's assembly placed, with its headers. */
export interface RoutedZone {
  readonly id: string;
  readonly valve: Valve | null;
  readonly assemblyAt: PlanPoint;
  readonly tree: PipeTree;
  readonly branches: readonly Branch[];
  /** Nodes of the tree that have a drain point. */
  readonly drains: readonly number[];
  readonly locked: readonly LockedPipe[];
}

/** Every trench of the plan. */
export interface RoutedPipes {
  readonly zones: readonly RoutedZone[];
  readonly mainTree: PipeTree | null;
  readonly mainBranches: readonly Branch[];
  readonly mainDrains: readonly number[];
  readonly mainLocked: readonly LockedPipe[];
  /** Control wire from the controller to each assembly, along the trenches where that is shorter. */
  readonly wires: readonly { readonly zoneId: string | null; readonly path: Polyline }[];
}

const byId = <T extends { id: string }>(map: Readonly<Record<string, T>>): T[] =>
  Object.values(map).sort((a, b) => (a.id < b.id ? -1 : 1));

/** Which drawn valve serves which zone: by key first, then the nearest of those left, zone by zone. */
export function assignValves(plan: Plan, zones: readonly ZoneEnds[]): Map<string, Valve> {
  const valves = byId(plan.valves);
  const assigned = new Map<string, Valve>();
  const used = new Set<string>();
  for (const zone of zones) {
    const named = valves.find(
      ({ id, zoneKey }) =>
        zoneKey !== null && (zoneKey === zone.zoneKey || zoneKey === zone.id) && !used.has(id),
    );
    if (!named) continue;
    assigned.set(zone.id, named);
    used.add(named.id);
  }
  for (const zone of zones) {
    if (assigned.has(zone.id)) continue;
    const middle = middleOfPoints(zone.stubUps.map(({ at }) => at));
    const free = valves
      .filter(({ id, zoneKey }) => zoneKey === null && !used.has(id))
      .sort((a, b) => distanceM(a.at, middle) - distanceM(b.at, middle) || (a.id < b.id ? -1 : 1))[0];
    if (!free) continue;
    assigned.set(zone.id, free);
    used.add(free.id);
  }
  return assigned;
}

/**
 * Where a box of our choosing stands by: the connection, or a box that the designer drew where that is nearer to the beds,
 * so that its header need not come back past the others.
 */
function besideWhat(
  sourceAt: PlanPoint | null,
  zone: ZoneEnds,
  middle: PlanPoint,
  drawnBoxes: readonly PlanPoint[],
): PlanPoint {
  const start = sourceAt ?? zone.stubUps[0]?.at ?? middle;
  if (!sourceAt) return start;
  return [start, ...drawnBoxes].reduce((best, at) =>
    distanceM(at, middle) < distanceM(best, middle) ? at : best,
  );
}

/**
 * Places the assemblies and routes main, headers and wires: round buildings and obstacles, along bed edges, in shared
 * trenches where they can be, under paving only where it must be. What the designer drew is kept and led to.
 *
 * @param sourceAt null: no source is drawn; assemblies then stand by their beds and there is no main
 * @param heightAt ground: low points of main and headers have drain points
 */
export function* routePipesSteps(
  plan: Plan,
  site: Site,
  sourceAt: PlanPoint | null,
  zones: readonly ZoneEnds[],
  heightAt: HeightAt,
): Steps<RoutedPipes> {
  const graph = new TrenchGraph(site);
  const valves = assignValves(plan, zones);
  const drawnBoxes = [...valves.values()].map(({ at }) => at);
  const taken: PlanPoint[] = sourceAt ? [...drawnBoxes, sourceAt] : [...drawnBoxes];
  const placed = zones.map((zone) => {
    const valve = valves.get(zone.id) ?? null;
    if (valve) return { zone, valve, at: valve.at };
    const middle = middleOfPoints(zone.stubUps.map(({ at }) => at));
    const at = placeBox(site, besideWhat(sourceAt, zone, middle, drawnBoxes), middle, taken);
    taken.push(at);
    return { zone, valve, at };
  });
  const mainLocked = byId(plan.lockedPipes).filter(({ role }) => role === 'main');
  const mainTree = sourceAt
    ? yield* growTreeSteps(
        graph,
        outsideBlocked(site, sourceAt),
        placed.map(({ zone, at }) => ({ id: zone.id, at: outsideBlocked(site, at) })),
        mainLocked.map(({ path }) => path),
      )
    : null;
  const headers = headersByZone(
    byId(plan.lockedPipes),
    placed.map(({ zone, at }) => ({ ...zone, assemblyAt: at })),
  );
  const routed: RoutedZone[] = [];
  for (const { zone, valve, at } of placed) {
    const locked = headers.get(zone.id) ?? [];
    const tree = yield* growTreeSteps(
      graph,
      outsideBlocked(site, at),
      zone.stubUps.map((stub) => ({ id: stub.bedId, at: outsideBlocked(site, stub.at) })),
      locked.map(({ path }) => path),
    );
    const drains = lowPoints(tree, heightAt);
    const branches = branchesOf(tree, drains);
    routed.push({ id: zone.id, valve, assemblyAt: at, tree, branches, drains, locked });
  }
  const mainDrains = mainTree ? lowPoints(mainTree, heightAt) : [];
  return {
    zones: routed,
    mainTree,
    mainBranches: mainTree ? branchesOf(mainTree, mainDrains) : [],
    mainDrains,
    mainLocked,
    wires: yield* routeWiresSteps(plan, site, graph, routed),
  };
}

function* routeWiresSteps(
  plan: Plan,
  site: Site,
  graph: TrenchGraph,
  zones: readonly RoutedZone[],
): Steps<{ zoneId: string | null; path: Polyline }[]> {
  const [controller] = byId(plan.controllers);
  if (!controller) return [];
  const drawn = byId(plan.lockedPipes).filter(({ role }) => role === 'wire');
  const wires: { zoneId: string; path: Polyline }[] = [];
  for (const zone of zones) {
    const own = drawn.find(({ zoneKey }) => zoneKey === zone.id || zoneKey === zone.valve?.zoneKey);
    if (own) {
      wires.push({ zoneId: zone.id, path: own.path });
      continue;
    }
    const way = yield* graph.findWaySteps(
      [outsideBlocked(site, controller.at)],
      outsideBlocked(site, zone.assemblyAt),
      'wire',
    );
    if (!way || way.points.length < 2) continue;
    graph.share(way.points);
    wires.push({ zoneId: zone.id, path: way.points });
  }
  return wires;
}
