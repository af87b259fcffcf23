import type { LossCurve } from '../catalog';
import { withLinks } from './altered';
import { type FlushPoint, openOutletLaw } from './flushing';
import { prepareNetwork, withFigures } from './prepare';
import { solvePrepared } from './solve';
import type { Network, NetworkLink, Solution } from './types';

/** A gauge read in the field, and what is known of the parts that may be at fault. */
export interface FieldReading {
  readonly network: Network;
  /** Node the gauge stood at. */
  readonly nodeId: string;
  /** Pressure head read, m. */
  readonly measuredHeadM: number;
  /** Readings this near the plan agree with it; crews are given 2 psi (1.4 m) or 10 %. */
  readonly toleranceM: number;
  /** What each filter takes when loaded, by link id. */
  readonly loadedFilters: ReadonlyMap<string, LossCurve>;
  /** Places where a run may be cut through: its bore is open to the ground there. */
  readonly cuts: readonly Pick<FlushPoint, 'nodeId' | 'outletDiameterM'>[];
  /** Settings a wrongly picked regulator may have, m of head. */
  readonly otherSettingsM: readonly number[];
}

/** Permanent codes of the faults that are tried; `core/words` holds their sentences. */
export type CauseCode =
  | 'hydraulics.cause-loaded-filter'
  | 'hydraulics.cause-valve-half-shut'
  | 'hydraulics.cause-cut-run'
  | 'hydraulics.cause-wrong-regulator'
  | 'hydraulics.cause-low-supply'
  | 'hydraulics.cause-high-supply';

/** One thing that may be wrong, with the pressure it would give. */
export interface LikelyCause {
  readonly code: CauseCode;
  /** Link or node at fault. */
  readonly id: string;
  /** Pressure head it would give at the gauge, m. */
  readonly predictedHeadM: number;
  /** Predicted less measured. */
  readonly missM: number;
  /** How far it was turned: the other setting, the share of supply head, the factor on the loss; null where it has none. */
  readonly amount: number | null;
}

/** Whether a reading agrees with the plan, and if not what may be wrong. */
export interface Diagnosis {
  readonly expectedHeadM: number;
  readonly agrees: boolean;
  /** Nearest first; only causes that explain the reading better than the plan as drawn. Empty where it agrees. */
  readonly causes: readonly LikelyCause[];
}

/** Half-shut gate and ball valves pass some 4 to 30 times the loss of open ones; from memory. */
const HALF_SHUT_FACTORS = [4, 10, 30, 100];
const SUPPLY_SHARES = [0.6, 0.8, 0.9, 1.1, 1.2, 1.4];

/**
 * Says whether a pressure read after installing agrees with the plan, and if not which faults would give it: the network
 * is altered by one fault at a time and solved again. Ranked by how near each comes to the reading, of one kind at one
 * part only the nearest.
 *
 * @returns null where the network itself cannot be solved
 */
export function diagnose(reading: FieldReading): Diagnosis | null {
  const { network, nodeId, measuredHeadM, toleranceM } = reading;
  const node = network.nodes.findIndex((candidate) => candidate.id === nodeId);
  if (node < 0) throw new Error(`no node ${nodeId}`);
  const prepared = prepareNetwork(network);
  const expected = solvePrepared(prepared);
  if (expected.status !== 'settled') return null;
  const pressureIn = (solution: Solution) => solution.headM[node]! - network.nodes[node]!.elevationM;
  const expectedHeadM = pressureIn(expected);
  if (Math.abs(expectedHeadM - measuredHeadM) <= toleranceM)
    return { expectedHeadM, agrees: true, causes: [] };
  const found = new Map<string, LikelyCause>();
  for (const { code, id, amount, altered, outlet } of alterations(reading)) {
    const solution = solvePrepared(
      withFigures(prepared, altered ?? network, outlet === undefined ? [] : [outlet]),
      expected,
    );
    if (solution.status !== 'settled') continue;
    const predictedHeadM = pressureIn(solution);
    const missM = predictedHeadM - measuredHeadM;
    const cause: LikelyCause = { code, id, predictedHeadM, missM, amount };
    const best = found.get(`${code} ${id}`);
    if (best === undefined || Math.abs(missM) < Math.abs(best.missM)) found.set(`${code} ${id}`, cause);
  }
  const planMissM = Math.abs(expectedHeadM - measuredHeadM);
  const causes = [...found.values()]
    .filter((cause) => Math.abs(cause.missM) < planMissM)
    .sort(
      (a, b) => Math.abs(a.missM) - Math.abs(b.missM) || (`${a.code} ${a.id}` < `${b.code} ${b.id}` ? -1 : 1),
    );
  return { expectedHeadM, agrees: false, causes };
}

interface Alteration {
  readonly code: CauseCode;
  readonly id: string;
  readonly amount: number | null;
  readonly altered?: Network;
  readonly outlet?: { readonly nodeId: string; readonly law: ReturnType<typeof openOutletLaw> };
}

function* alterations(reading: FieldReading): Generator<Alteration> {
  const { network } = reading;
  const replaced = (link: NetworkLink) => withLinks(network, new Map([[link.id, link]]));
  for (const link of network.links) {
    const { id } = link;
    if (link.kind === 'device' && link.device === 'filter') {
      const loss = reading.loadedFilters.get(id) ?? scaledLoss(link.loss, 4);
      yield {
        code: 'hydraulics.cause-loaded-filter',
        id,
        amount: null,
        altered: replaced({ ...link, loss }),
      };
    } else if (link.kind === 'device' && link.device === 'valve')
      for (const amount of HALF_SHUT_FACTORS)
        yield {
          code: 'hydraulics.cause-valve-half-shut',
          id,
          amount,
          altered: replaced({ ...link, loss: scaledLoss(link.loss, amount) }),
        };
    else if (link.kind === 'regulator')
      for (const setHeadM of reading.otherSettingsM) {
        if (setHeadM === link.setHeadM) continue;
        const minInletHeadM = link.minInletHeadM - link.setHeadM + setHeadM;
        yield {
          code: 'hydraulics.cause-wrong-regulator',
          id,
          amount: setHeadM,
          altered: replaced({ ...link, setHeadM, minInletHeadM }),
        };
      }
  }
  for (const cut of reading.cuts)
    yield {
      code: 'hydraulics.cause-cut-run',
      id: cut.nodeId,
      amount: null,
      outlet: { nodeId: cut.nodeId, law: openOutletLaw({ ...cut, outletLossK: 0 }) },
    };
  for (const node of network.nodes) {
    if (node.fixedHeadM === undefined) continue;
    for (const share of SUPPLY_SHARES) {
      const fixedHeadM = node.elevationM + share * (node.fixedHeadM - node.elevationM);
      const nodes = network.nodes.map((other) => (other === node ? { ...node, fixedHeadM } : other));
      yield {
        code: share < 1 ? 'hydraulics.cause-low-supply' : 'hydraulics.cause-high-supply',
        id: node.id,
        amount: share,
        altered: { ...network, nodes },
      };
    }
  }
}

function scaledLoss(loss: LossCurve, factor: number): LossCurve {
  if (loss.kind === 'quadratic') return { ...loss, kSI: loss.kSI * factor };
  return { ...loss, points: loss.points.map((p) => ({ ...p, headM: p.headM * factor })) };
}
