import type { Catalog } from '../../catalog';
import { type Network, type NetworkLink, type Outlet, openOutletLaw, withLinks } from '../../hydraulics';
import type { BedLayout } from '../../layout';
import { turnPlacesM } from '../../layout';
import { FLUSH_VALVE_K } from '../solveZone';
import type { Zone } from '../types';
import { staticHeadOf, withFilterLoaded, withStaticHead } from './zoneTrial';

/** One thing a crew may have got wrong, or that may have failed; `core/words` says each. */
export type FaultCode =
  | 'supply.fault-valve-closed'
  | 'supply.fault-filter-loaded'
  | 'supply.fault-wrong-regulator'
  | 'supply.fault-cut-run'
  | 'supply.fault-kink'
  | 'supply.fault-flush-open'
  | 'supply.fault-join-missing'
  | 'supply.fault-mains-low';

/** A zone with exactly one thing wrong, of the same shape as the zone as drawn. */
export interface Fault {
  readonly code: FaultCode;
  /** The run at fault; null where it is not tubing. */
  readonly runId: string | null;
  /** Distance along the run; null where it has none. */
  readonly alongM: number | null;
  /** The other regulator setting, m; the share of the static head, or of the run where it is cut; null where there is no figure. */
  readonly amount: number | null;
  readonly network: Network;
  readonly outlets: readonly Outlet[];
}

/**
 * K of a kink that leaves a tenth of the bore open: (1 / (0.61 x 0.1) - 1)^2.
 * Source: Borda-Carnot sudden expansion behind a contracted opening, contraction 0.61.
 */
const KINK_K = (1 / (0.61 * 0.1) - 1) ** 2;
/** K that passes drops only: as good as shut, with the shape of the network kept. */
const SHUT_K = 1e8;
/** A shut valve, m per (m3/s)^2: 30 m of head pass a hundredth of one emitter's flow. */
const SHUT_LOSS = { kind: 'quadratic', kSI: 3e17, offsetM: 0 } as const;
/** Mains a fifth below what they were drawn for: lower than any season explains (ours). */
const LOW_MAINS_RATIO = 0.8;
/** Kinks solved for one zone; where it turns more often every second, third ... turn is kinked: neighbours read alike. */
const MOST_KINKS = 60;
/** Places along a run where a spade is tried. */
const CUT_SHARES = [0.25, 0.5, 0.75];

type Bore = Extract<NetworkLink, { kind: 'pipe' }>;

/** Every single fault of a zone, in the order a crew would look for them. */
export function faultsOf(zone: Zone, catalog: Catalog, layouts: readonly BedLayout[]): Fault[] {
  return [...assemblyFaults(zone, catalog), ...flushFaults(zone), ...tubingFaults(zone, layouts)];
}

const nothing = { runId: null, alongM: null, amount: null, outlets: [] } as const;

function assemblyFaults(zone: Zone, catalog: Catalog): Fault[] {
  const { network } = zone;
  const replaced = (link: NetworkLink): Network => withLinks(network, new Map([[link.id, link]]));
  const valves = network.links.flatMap((link): Fault[] =>
    link.kind === 'device' && link.device === 'valve'
      ? [{ ...nothing, code: 'supply.fault-valve-closed', network: replaced({ ...link, loss: SHUT_LOSS }) }]
      : [],
  );
  const settings = [...new Set(catalog.assemblies.map(({ regulatedHeadM }) => regulatedHeadM))];
  const regulators = network.links.flatMap((link): Fault[] =>
    link.kind === 'regulator'
      ? settings
          .filter((setHeadM) => Math.abs(setHeadM - link.setHeadM) > 1e-6)
          .sort((a, b) => a - b)
          .map((setHeadM) => ({
            ...nothing,
            code: 'supply.fault-wrong-regulator',
            amount: setHeadM,
            network: replaced({
              ...link,
              setHeadM,
              minInletHeadM: link.minInletHeadM - link.setHeadM + setHeadM,
            }),
          }))
      : [],
  );
  return [
    ...valves,
    { ...nothing, code: 'supply.fault-filter-loaded', network: withFilterLoaded(zone, network, 1) },
    ...regulators,
    {
      ...nothing,
      code: 'supply.fault-mains-low',
      amount: LOW_MAINS_RATIO,
      network: withStaticHead(network, LOW_MAINS_RATIO * staticHeadOf(network)),
    },
  ];
}

function flushFaults(zone: Zone): Fault[] {
  const pipes = pipesById(zone.network);
  return zone.tubing.flush.map(({ nodeId, runId, distanceM }) => ({
    code: 'supply.fault-flush-open',
    runId,
    alongM: distanceM,
    amount: null,
    network: zone.network,
    outlets: [
      {
        nodeId,
        law: openOutletLaw({ outletDiameterM: boreOf(zone, pipes, runId), outletLossK: FLUSH_VALVE_K }),
      },
    ],
  }));
}

const pipesById = (network: Network): ReadonlyMap<string, Bore> =>
  new Map(network.links.flatMap((link) => (link.kind === 'pipe' ? [[link.id, link] as const] : [])));

function boreOf(zone: Zone, pipes: ReadonlyMap<string, Bore>, runId: string): number {
  const piece = zone.tubing.pieces.find((one) => one.runId === runId);
  return pipes.get(piece?.linkId ?? '')?.insideDiameterM ?? 0;
}

/** Where each run turns, by its id. */
const turnsByRun = (
  runIds: readonly string[],
  layouts: readonly BedLayout[],
): ReadonlyMap<string, readonly number[]> =>
  new Map(
    layouts.flatMap((layout) =>
      layout.runs
        .filter(({ id }) => runIds.includes(id))
        .map((run) => [run.id, turnPlacesM(run.path, layout.rowSpacingM)] as const),
    ),
  );

function tubingFaults(zone: Zone, layouts: readonly BedLayout[]): Fault[] {
  const pipes = pipesById(zone.network);
  const runIds = [...new Set(zone.tubing.pieces.map(({ runId }) => runId))];
  const turnsOf = turnsByRun(runIds, layouts);
  const turnCount = [...turnsOf.values()].reduce((sum, turns) => sum + turns.length, 0);
  const everyNth = Math.max(1, Math.ceil(turnCount / MOST_KINKS));
  return runIds.flatMap((runId): Fault[] => {
    const pieces = zone.tubing.pieces.filter((piece) => piece.runId === runId);
    const layout = layouts.find(({ runs }) => runs.some(({ id }) => id === runId));
    const run = layout?.runs.find(({ id }) => id === runId);
    if (!layout || !run || pieces.length < 2) return [];
    const withK = (linkId: string, lossK: number): Network => {
      const pipe = pipes.get(linkId)!;
      return withLinks(zone.network, new Map([[linkId, { ...pipe, lossK: pipe.lossK + lossK }]]));
    };
    const pieceAt = (alongM: number) => pieces.find(({ toM }) => toM >= alongM) ?? pieces.at(-1)!;
    const turns = (turnsOf.get(runId) ?? []).filter((_, index) => index % everyNth === 0);
    const kinks = turns.map(
      (alongM): Fault => ({
        code: 'supply.fault-kink',
        runId,
        alongM,
        amount: null,
        network: withK(pieceAt(alongM).linkId, KINK_K),
        outlets: [],
      }),
    );
    const cuts = (run.emittersM.length > 0 ? CUT_SHARES : []).map((share): Fault => {
      const { linkId, toM } = pieceAt(share * run.lengthM);
      const pipe = pipes.get(linkId)!;
      // A cut leaves two open ends, one on either side.
      const law = openOutletLaw({ outletDiameterM: pipe.insideDiameterM * Math.SQRT2, outletLossK: 0 });
      return {
        code: 'supply.fault-cut-run',
        runId,
        alongM: toM,
        amount: share,
        network: zone.network,
        outlets: [{ nodeId: pipe.to, law }],
      };
    });
    const ends = [pieces[0]!, pieces.at(-1)!];
    const isJoined = (alongM: number): boolean => {
      const at = alongM === 0 ? run.path[0]! : run.path.at(-1)!;
      return layout.joins.some(
        (join) =>
          join.runIds.includes(runId) &&
          join.fitting !== 'end-cap' &&
          join.fitting !== 'flush-valve' &&
          Math.hypot(join.x - at.x, join.y - at.y) < JOINED_WITHIN_M,
      );
    };
    const missing = ends.flatMap(({ linkId, fromM, toM }, end): Fault[] => {
      const alongM = end === 0 ? fromM : toM;
      return isJoined(end === 0 ? 0 : run.lengthM)
        ? [
            {
              code: 'supply.fault-join-missing',
              runId,
              alongM,
              amount: null,
              network: withK(linkId, SHUT_K),
              outlets: [],
            },
          ]
        : [];
    });
    return [...cuts, ...kinks, ...missing];
  });
}

/** As near as a join lies on the end of its run: the drawing's grid and the router's rounding stay below it. */
const JOINED_WITHIN_M = 0.02;
