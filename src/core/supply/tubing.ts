import type { Catalog } from '../catalog';
import { distanceM, nearestOnPath, type PlanPoint, pointsAlong } from '../geometry';
import { frictionLawOf, type NetworkLink, type NetworkNode } from '../hydraulics';
import type { Run } from '../layout';
import type { Problem } from '../units';
import type { ServedBed } from './types';

/** Where one emitter is, beside its node in the network. */
export interface EmitterPlace {
  readonly nodeId: string;
  readonly runId: string;
  readonly distanceM: number;
  readonly at: PlanPoint;
  readonly elevationM: number;
}

/** Where a run can be flushed, beside its node. */
export interface FlushPlace {
  readonly nodeId: string;
  readonly runId: string;
  readonly distanceM: number;
  readonly at: PlanPoint;
  readonly insideDiameterM: number;
}

/** One link of the network as a stretch of a run: distances along the run. */
export interface TubingPiece {
  readonly runId: string;
  readonly linkId: string;
  readonly fromM: number;
  readonly toM: number;
}

/** The tubing of one bed as network: every piece between emitters, real loops, joined only where the layout joins. */
export interface BedTubing {
  readonly nodes: readonly NetworkNode[];
  readonly links: readonly NetworkLink[];
  /** The node at the stub-up, where the header comes in. */
  readonly stubNodeId: string;
  readonly emitters: readonly EmitterPlace[];
  readonly flush: readonly FlushPlace[];
  readonly pieces: readonly TubingPiece[];
  readonly problems: readonly Problem[];
}

/** A join lies on a run when it is this near: the drawing's grid and the router's rounding together stay below it. */
const ON_RUN_M = 0.02;
/** Two places of a run nearer than this are one. */
const SAME_PLACE_M = 0.001;

interface Station {
  alongM: number;
  node: number;
  emitter: boolean;
  flush: boolean;
}

/** Names joined to one another; the smallest stands for all. */
class Same {
  private readonly head: number[] = [];
  add(): number {
    this.head.push(this.head.length);
    return this.head.length - 1;
  }
  find(node: number): number {
    let at = node;
    while (this.head[at] !== at) at = this.head[at]!;
    let walk = node;
    while (this.head[walk] !== at) {
      const next = this.head[walk]!;
      this.head[walk] = at;
      walk = next;
    }
    return at;
  }
  join(a: number, b: number): void {
    const one = this.find(a);
    const other = this.find(b);
    if (one !== other) this.head[Math.max(one, other)] = Math.min(one, other);
  }
}

function stationsOf(run: Run, extraM: readonly number[], same: Same): Station[] {
  const wanted = [
    { alongM: 0, emitter: false, flush: false },
    { alongM: run.lengthM, emitter: false, flush: false },
    ...run.emittersM.map((alongM) => ({ alongM, emitter: true, flush: false })),
    ...extraM.map((alongM) => ({ alongM, emitter: false, flush: false })),
    ...(run.flushAtM === null ? [] : [{ alongM: run.flushAtM, emitter: false, flush: true }]),
  ]
    .map((place) => ({ ...place, alongM: Math.min(run.lengthM, Math.max(0, place.alongM)) }))
    .sort((a, b) => a.alongM - b.alongM);
  const stations: Station[] = [];
  for (const place of wanted) {
    const last = stations.at(-1);
    if (last && place.alongM - last.alongM < SAME_PLACE_M && !(last.emitter && place.emitter)) {
      last.emitter ||= place.emitter;
      last.flush ||= place.flush;
    } else stations.push({ ...place, node: same.add() });
  }
  if (run.closed && stations.length > 1) same.join(stations[0]!.node, stations.at(-1)!.node);
  return stations;
}

const stationAt = (stations: readonly Station[], alongM: number): Station =>
  stations.reduce((best, one) =>
    Math.abs(one.alongM - alongM) < Math.abs(best.alongM - alongM) ? one : best,
  );

interface JoinPlaces {
  readonly alongByRun: readonly number[][];
  readonly joins: readonly { readonly run: number; readonly alongM: number }[][];
}

/** Where each join of the layout lies along each of its runs. */
function placeJoins(bed: ServedBed): JoinPlaces {
  const { runs, joins } = bed.layout;
  const index = new Map(runs.map((run, at) => [run.id, at]));
  const alongByRun: number[][] = runs.map(() => []);
  const places = joins.map((join) =>
    [...new Set(join.runIds)].flatMap((runId) => {
      const run = index.get(runId);
      if (run === undefined) return [];
      const near = nearestOnPath(join, runs[run]!.path);
      if (near.distanceM > ON_RUN_M) return [];
      alongByRun[run]!.push(near.alongM);
      return [{ run, alongM: near.alongM }];
    }),
  );
  return { alongByRun, joins: places };
}

/** The run and place where the header comes in: the nearest place of any run to the stub-up. */
function stubPlace(bed: ServedBed): { run: number; alongM: number } {
  let best = { run: 0, alongM: 0, distanceM: Number.POSITIVE_INFINITY };
  bed.layout.runs.forEach((run, index) => {
    const near = nearestOnPath(bed.layout.stubUp, run.path);
    const nearer = near.distanceM < best.distanceM - 1e-6;
    const leads = near.distanceM < best.distanceM + 1e-6 && run.role === 'lead';
    if (nearer || leads) best = { run: index, alongM: near.alongM, distanceM: near.distanceM };
  });
  return best;
}

/**
 * The tubing of one bed as a network: nodes at every emitter, join, end and flush point, at the ground's height; a link for
 * each piece between. Loops close on themselves. A run that no join ties to the rest is tied to the stub-up by the straight
 * line, with a problem that says so.
 *
 * @param prefix makes ids unique in the zone
 */
export function buildTubing(bed: ServedBed, catalog: Catalog, prefix: string): BedTubing {
  const { runs } = bed.layout;
  const same = new Same();
  const stub = stubPlace(bed);
  const { alongByRun, joins } = placeJoins(bed);
  alongByRun[stub.run]!.push(stub.alongM);
  const stations = runs.map((run, index) => stationsOf(run, alongByRun[index]!, same));
  for (const places of joins) {
    const [first, ...rest] = places.map(({ run, alongM }) => stationAt(stations[run]!, alongM).node);
    for (const node of rest) same.join(first!, node);
  }
  const stubNode = same.find(stationAt(stations[stub.run]!, stub.alongM).node);
  const idOf = (node: number): string => `${prefix}n${same.find(node)}`;
  const nodes = new Map<string, NetworkNode>();
  const links: NetworkLink[] = [];
  const emitters: EmitterPlace[] = [];
  const flush: FlushPlace[] = [];
  const pieces: TubingPiece[] = [];
  const teeK = catalog.fittings.find(({ use }) => use === 'tee')?.lossK ?? 0;
  const tube = bed.dripline;
  const friction = frictionLawOf(tube);
  runs.forEach((run, runIndex) => {
    const along = stations[runIndex]!;
    const points = pointsAlong(
      run.path,
      along.map(({ alongM }) => alongM),
    );
    along.forEach((station, at) => {
      const id = idOf(station.node);
      const place = points[at]!.at;
      const elevationM = bed.elevationAt(place);
      const known = nodes.get(id);
      if (station.emitter) {
        nodes.set(id, { id, elevationM: known?.elevationM ?? elevationM, emitter: tube.emitter });
        emitters.push({ nodeId: id, runId: run.id, distanceM: station.alongM, at: place, elevationM });
      } else if (!known) nodes.set(id, { id, elevationM });
      const next = along[at + 1];
      if (!next) return;
      const linkId = `${prefix}r${runIndex}p${at}`;
      pieces.push({ runId: run.id, linkId, fromM: station.alongM, toM: next.alongM });
      links.push({
        id: linkId,
        kind: 'pipe',
        from: id,
        to: idOf(next.node),
        lengthM: Math.max(next.alongM - station.alongM, SAME_PLACE_M),
        insideDiameterM: tube.insideDiameterM,
        friction,
        lossK: (next.emitter ? tube.emitterLossK : 0) + (at === 0 ? teeK : 0),
      });
    });
    along.forEach((station, at) => {
      if (!station.flush) return;
      flush.push({
        nodeId: idOf(station.node),
        runId: run.id,
        distanceM: station.alongM,
        at: points[at]!.at,
        insideDiameterM: tube.insideDiameterM,
      });
    });
  });
  const stubNodeId = idOf(stubNode);
  const tied = tieApart(bed, prefix, [...nodes.values()], links, stubNodeId, (run) =>
    idOf(stations[run]![0]!.node),
  );
  return {
    nodes: [...nodes.values()],
    links: [...links, ...tied.links],
    stubNodeId,
    emitters,
    flush,
    pieces,
    problems: tied.problems,
  };
}

/** Runs no join reaches, tied to the stub-up so that the rest of the zone can still be solved. */
function tieApart(
  bed: ServedBed,
  prefix: string,
  nodes: readonly NetworkNode[],
  links: readonly NetworkLink[],
  stubNodeId: string,
  startOf: (run: number) => string,
): { links: NetworkLink[]; problems: Problem[] } {
  const index = new Map(nodes.map(({ id }, at) => [id, at]));
  const same = new Same();
  for (const _ of nodes) same.add();
  for (const { from, to } of links) same.join(index.get(from)!, index.get(to)!);
  const added: NetworkLink[] = [];
  const problems: Problem[] = [];
  bed.layout.runs.forEach((run, at) => {
    const start = index.get(startOf(at))!;
    const stub = index.get(stubNodeId)!;
    if (same.find(start) === same.find(stub)) return;
    same.join(start, stub);
    added.push({
      id: `${prefix}tie${at}`,
      kind: 'pipe',
      from: stubNodeId,
      to: startOf(at),
      lengthM: Math.max(distanceM(run.path[0]!, bed.layout.stubUp), 0.1),
      insideDiameterM: bed.dripline.insideDiameterM,
      friction: frictionLawOf(bed.dripline),
      lossK: 0,
    });
    problems.push({
      code: 'supply.run-not-joined',
      severity: 'stop',
      where: { id: bed.bedId, x: run.path[0]!.x, y: run.path[0]!.y },
      params: { run: run.id, bed: bed.name || bed.bedId },
    });
  });
  return { links: added, problems };
}
