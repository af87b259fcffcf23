import type { Assembly, Backflow, Catalog, Pipe } from '../catalog';
import { distanceM, type PlanPoint } from '../geometry';
import { frictionLawOf, type Network, type NetworkLink, type NetworkNode, stillHeadM } from '../hydraulics';
import type { CheckPlace } from './checkValves';
import type { HeightAt } from './elevation';
import type { Branch, PipeTree } from './pipeTree';
import type { SourceModel } from './source';
import { type BedTubing, buildTubing, type EmitterPlace, type FlushPlace } from './tubing';
import type { ServedBed } from './types';

/** A branch of a pipe tree with the pipe chosen for it. */
export interface SizedBranch {
  readonly id: string;
  readonly branch: Branch;
  readonly pipe: Pipe;
  readonly depthM: number;
}

/** Everything between the source and a zone's beds, routed and sized. */
export interface ZonePlumbing {
  readonly source: SourceModel;
  readonly backflow: Backflow | null;
  readonly hasMasterValve: boolean;
  readonly hasFlowSensor: boolean;
  readonly mainTree: PipeTree | null;
  /** Nodes of the main with a drain point. */
  readonly mainDrains: readonly number[];
  /** Only the branches of the main that lead to this zone's assembly. */
  readonly main: readonly SizedBranch[];
  readonly assembly: Assembly;
  readonly assemblyAt: PlanPoint;
  readonly assemblyElevationM: number;
  readonly headerTree: PipeTree;
  readonly headerDrains: readonly number[];
  readonly headers: readonly SizedBranch[];
  readonly headerPipe: Pipe;
  /** In the order the water meets them along each header. */
  readonly checks: readonly CheckPlace[];
  readonly heightAt: HeightAt;
  readonly kinematicViscosityM2s: number;
}

/** The network of a zone with the places that later stages read. */
export interface ZoneNetwork {
  readonly network: Network;
  readonly emitters: readonly EmitterPlace[];
  readonly emitterNodes: readonly number[];
  /** Least head of each emitter to give its rated flow, m. */
  readonly leastHeadM: readonly number[];
  readonly bedOfEmitter: readonly number[];
  readonly flush: readonly FlushPlace[];
  readonly pipeLinks: ReadonlyMap<string, string>;
  readonly tubing: readonly BedTubing[];
}

/** Node ids at the places a crew reads. */
export const READ_AT = {
  connection: 'connection',
  regulatorInlet: 'regulator-inlet',
  afterRegulator: 'regulator-outlet',
} as const;

/** Height of the box floor below the ground, where the assembly stands, m (ours). */
const RISER_M = 0.3;

const lossKOf = (catalog: Catalog, use: string): number =>
  catalog.fittings.find((fitting) => fitting.use === use)?.lossK ?? 0;

/** K on the velocity head as a loss in a bore: h = K v^2 / 2g (Darcy-Weisbach's local loss), as a parabola in the flow. */
function boreLoss(
  lossK: number,
  insideDiameterM: number,
): { kind: 'quadratic'; kSI: number; offsetM: number } {
  const areaM2 = (Math.PI / 4) * insideDiameterM ** 2;
  return { kind: 'quadratic', kSI: lossK / (2 * 9.80665 * areaM2 * areaM2), offsetM: 0 };
}

class Builder {
  readonly nodes: NetworkNode[] = [];
  readonly links: NetworkLink[] = [];
  private readonly known = new Set<string>();
  node(node: NetworkNode): void {
    if (this.known.has(node.id)) return;
    this.known.add(node.id);
    this.nodes.push(node);
  }
  link(link: NetworkLink): void {
    this.links.push(link);
  }
}

/** Source, service, meter, connection, shut-off, backflow, master valve and flow sensor; returns where the main begins. */
function buildHeadworks(builder: Builder, zone: ZonePlumbing, catalog: Catalog): string {
  const { source } = zone;
  const elevationM = source.elevationM ?? (source.at ? zone.heightAt(source.at) : zone.assemblyElevationM);
  const boreM = zone.main[0]?.pipe.insideDiameterM ?? zone.headerPipe.insideDiameterM;
  builder.node({ id: 'source', elevationM, fixedHeadM: elevationM + stillHeadM(source.curve) });
  let at = 'source';
  const step = (id: string, make: (from: string, to: string) => NetworkLink): void => {
    builder.node({ id, elevationM });
    builder.link(make(at, id));
    at = id;
  };
  const steps: [string, (from: string, to: string) => NetworkLink][] = [
    ['supplied', (from, to) => ({ id: 'supply', kind: 'supply', from, to, curve: source.curve })],
  ];
  const { service, meter } = source;
  if (service) {
    steps.push([
      'service-end',
      (from, to) => ({
        id: 'service',
        kind: 'pipe',
        from,
        to,
        lengthM: service.lengthM,
        insideDiameterM: service.insideDiameterM,
        friction: { kind: 'hazen-williams', c: 140 },
        lossK: 0,
      }),
    ]);
  }
  if (meter) {
    steps.push([
      'meter-end',
      (from, to) => ({ id: 'meter', kind: 'device', device: 'meter', from, to, loss: meter.loss }),
    ]);
  }
  steps[steps.length - 1]![0] = READ_AT.connection;
  for (const [id, make] of steps) step(id, make);
  const fitting = (id: string, use: string): void =>
    step(`${id}-end`, (from, to) => ({
      id,
      kind: 'device',
      device: 'fitting',
      from,
      to,
      loss: boreLoss(lossKOf(catalog, use), boreM),
    }));
  fitting('shut-off', 'shut-off');
  const { backflow } = zone;
  if (backflow) {
    step('backflow-end', (from, to) => ({
      id: 'backflow',
      kind: 'device',
      device: 'backflow',
      from,
      to,
      loss: backflow.loss,
      isOneWay: true,
    }));
  }
  if (zone.hasMasterValve) fitting('master-valve', 'master-valve');
  if (zone.hasFlowSensor) fitting('flow-sensor', 'flow-sensor');
  return at;
}

function buildBranches(
  builder: Builder,
  branches: readonly SizedBranch[],
  tree: PipeTree,
  zone: ZonePlumbing,
  catalog: Catalog,
  idOf: (node: number) => string,
): void {
  const elbowK = lossKOf(catalog, 'pvc-elbow');
  const teeK = lossKOf(catalog, 'pvc-tee');
  for (const { id, branch, pipe, depthM } of branches) {
    for (const node of [branch.from, branch.to]) {
      builder.node({ id: idOf(node), elevationM: zone.heightAt(tree.nodes[node]!.at) - depthM });
    }
    const checks = zone.checks.filter(({ branchId }) => branchId === id);
    const checkId = (index: number): string => `${id}/check-${index + 1}`;
    builder.link({
      id,
      kind: 'pipe',
      from: idOf(branch.from),
      to: checks.length > 0 ? checkId(0) : idOf(branch.to),
      lengthM: Math.max(branch.lengthM, 0.01),
      insideDiameterM: pipe.insideDiameterM,
      friction: frictionLawOf(pipe),
      lossK: branch.bends * elbowK + teeK,
    });
    checks.forEach(({ at }, index) => {
      builder.node({ id: checkId(index), elevationM: zone.heightAt(at) - depthM });
      builder.link({
        id: `${checkId(index)}-valve`,
        kind: 'device',
        device: 'check-valve',
        from: checkId(index),
        to: index + 1 < checks.length ? checkId(index + 1) : idOf(branch.to),
        loss: boreLoss(lossKOf(catalog, 'check-valve'), pipe.insideDiameterM),
        isOneWay: true,
      });
    });
  }
}

function buildAssembly(builder: Builder, zone: ZonePlumbing, from: string, filter: 'clean' | 'loaded'): void {
  const { assembly, assemblyElevationM: elevationM } = zone;
  for (const id of ['valve-outlet', READ_AT.regulatorInlet, READ_AT.afterRegulator])
    builder.node({ id, elevationM });
  builder.link({
    id: 'valve',
    kind: 'device',
    device: 'valve',
    from,
    to: 'valve-outlet',
    loss: assembly.valveLoss,
  });
  builder.link({
    id: 'filter',
    kind: 'device',
    device: 'filter',
    from: 'valve-outlet',
    to: READ_AT.regulatorInlet,
    loss: filter === 'clean' ? assembly.filterLossClean : assembly.filterLossLoaded,
  });
  builder.link({
    id: 'regulator',
    kind: 'regulator',
    from: READ_AT.regulatorInlet,
    to: READ_AT.afterRegulator,
    setHeadM: assembly.regulatedHeadM,
    droop: assembly.regulatorDroop,
    loss: assembly.filterLossClean,
    minInletHeadM: assembly.regulatorMinInletHeadM,
  });
}

/** The riser from the header's end up to the bed's stub-up, or a straight stand-in where no trench reaches the bed. */
function buildRiser(
  builder: Builder,
  zone: ZonePlumbing,
  catalog: Catalog,
  bed: ServedBed,
  index: number,
  tubing: BedTubing,
): void {
  const node = zone.headerTree.nodes.findIndex(({ feeds }) => feeds.includes(bed.bedId));
  const branch = zone.headers.find((header) => header.branch.to === node);
  const pipe = branch?.pipe ?? zone.headerPipe;
  const isReached = node >= 0;
  builder.link({
    id: `b${index}riser`,
    kind: 'pipe',
    from: isReached ? headerNodeId(zone.headerDrains, node) : READ_AT.afterRegulator,
    to: tubing.stubNodeId,
    lengthM: RISER_M + (isReached ? 0 : distanceM(zone.assemblyAt, bed.layout.stubUp)),
    insideDiameterM: pipe.insideDiameterM,
    friction: frictionLawOf(pipe),
    lossK:
      lossKOf(catalog, 'stub-up-riser') +
      lossKOf(catalog, 'stub-up-tee') +
      (zone.headerDrains.includes(node) ? lossKOf(catalog, 'pvc-tee') : 0),
  });
}

function pipeNodeId(
  drains: readonly number[],
  node: number,
  rootId: string,
  prefix: 'main' | 'header',
): string {
  if (node === 0) return rootId;
  const drain = drains.indexOf(node);
  return drain < 0 ? `${prefix[0]}${node}` : `${prefix}-drain-${drain + 1}`;
}

/** Id in the zone's network of a node of its header tree; a drain point is told by its name. */
export const headerNodeId = (drains: readonly number[], node: number): string =>
  pipeNodeId(drains, node, READ_AT.afterRegulator, 'header');

/**
 * The network of one zone from the source to the last emitter: supply curve, meter, shut-off, backflow preventer, main,
 * valve, filter, regulator, headers, risers, and every piece of tubing between emitters, each node at its height.
 *
 * @param filter as new, or as dirty as it may get before it is cleaned
 */
export function buildZoneNetwork(
  zone: ZonePlumbing,
  beds: readonly ServedBed[],
  catalog: Catalog,
  filter: 'clean' | 'loaded' = 'clean',
): ZoneNetwork {
  const builder = new Builder();
  const mainStart = buildHeadworks(builder, zone, catalog);
  let beforeValve = mainStart;
  if (zone.mainTree && zone.main.length > 0) {
    const idOf = (node: number): string => pipeNodeId(zone.mainDrains, node, mainStart, 'main');
    buildBranches(builder, zone.main, zone.mainTree, zone, catalog, idOf);
    beforeValve = idOf(zone.main.at(-1)!.branch.to);
  }
  buildAssembly(builder, zone, beforeValve, filter);
  buildBranches(builder, zone.headers, zone.headerTree, zone, catalog, (node) =>
    headerNodeId(zone.headerDrains, node),
  );
  const tubing = beds.map((bed, index) => buildTubing(bed, catalog, `b${index}`));
  tubing.forEach((made, index) => {
    for (const node of made.nodes) builder.node(node);
    for (const link of made.links) builder.link(link);
    buildRiser(builder, zone, catalog, beds[index]!, index, made);
  });
  const position = new Map(builder.nodes.map(({ id }, at) => [id, at]));
  const emitters = tubing.flatMap((made) => made.emitters);
  return {
    network: {
      nodes: builder.nodes,
      links: builder.links,
      kinematicViscosityM2s: zone.kinematicViscosityM2s,
    },
    emitters,
    emitterNodes: emitters.map(({ nodeId }) => position.get(nodeId)!),
    leastHeadM: tubing.flatMap((made, index) =>
      made.emitters.map(() => beds[index]!.dripline.emitter.minHeadM),
    ),
    bedOfEmitter: tubing.flatMap((made, index) => made.emitters.map(() => index)),
    flush: tubing.flatMap((made) => made.flush),
    pipeLinks: new Map([...zone.main, ...zone.headers].map(({ id }) => [id, id])),
    tubing,
  };
}
