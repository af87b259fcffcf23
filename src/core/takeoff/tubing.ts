import type { Catalog, Dripline } from '../catalog';
import type { BedLayout, Join, Run } from '../layout';
import type { Problem } from '../units';
import { type CutList, cutRuns, type TubingDemand } from './cutting/cutList';
import type { PartsList } from './parts';

/** A bed as the takeoff receives it. */
export interface CountedBed {
  readonly id: string;
  readonly name: string;
  readonly dripline: Dripline;
  readonly layout: BedLayout;
  readonly soil: string;
}

/** Runs that carry emitters are dripline; leads, headers and links inside a bed are blank tubing. */
const isPlain = (run: Run): boolean => run.emittersM.length === 0;

interface Tubing {
  readonly id: string;
  readonly name: string;
  readonly rollLengthsM: readonly number[];
  readonly pricePerM: number | null;
}

function tubingOf(dripline: Dripline): Tubing {
  return {
    id: dripline.id,
    name: dripline.name,
    rollLengthsM: dripline.rollLengthsM,
    pricePerM: dripline.order?.price ?? null,
  };
}

/** Blank tubing whose bore is nearest the dripline's; null where the catalogue has none. */
function blankTubingFor(dripline: Dripline, catalog: Catalog): Tubing | null {
  const blanks = catalog.pipes.filter((pipe) => pipe.material === 'blank-tubing');
  const misfitM = (insideDiameterM: number): number => Math.abs(insideDiameterM - dripline.insideDiameterM);
  const [best] = [...blanks].sort((a, b) => misfitM(a.insideDiameterM) - misfitM(b.insideDiameterM));
  return best
    ? {
        id: best.id,
        name: `${best.name}, ${best.nominal}`,
        rollLengthsM: [best.stickLengthM],
        pricePerM: best.order?.price ?? null,
      }
    : null;
}

/**
 * Rolls to buy and the cut list of every bed's tubing, one tubing at a time in the order of the beds.
 * Counts the rolls and the couplings of the splices on the parts list.
 */
export function countTubing(
  beds: readonly CountedBed[],
  catalog: Catalog,
  wasteRatio: number,
  parts: PartsList,
): { readonly lists: readonly CutList[]; readonly problems: readonly Problem[] } {
  const demands = new Map<string, { tubing: Tubing; runs: { run: Run; joins: readonly Join[] }[] }>();
  const problems: Problem[] = [];
  for (const bed of beds) {
    for (const run of bed.layout.runs) {
      const tubing = isPlain(run) ? blankTubingFor(bed.dripline, catalog) : tubingOf(bed.dripline);
      if (!tubing || tubing.rollLengthsM.length === 0) {
        problems.push({
          code: 'takeoff.no-roll',
          severity: 'warn',
          where: { id: run.id },
          params: { name: tubing?.name ?? '', lengthM: run.lengthM },
        });
        continue;
      }
      const demand = demands.get(tubing.id) ?? { tubing, runs: [] };
      demand.runs.push({ run, joins: bed.layout.joins });
      demands.set(tubing.id, demand);
    }
  }
  const lists: CutList[] = [];
  let nextNumber = 1;
  for (const { tubing, runs } of demands.values()) {
    const demand: TubingDemand = { part: tubing.id, rollLengthsM: tubing.rollLengthsM, runs };
    const list = cutRuns(demand, wasteRatio, nextNumber);
    nextNumber += list.rolls.length;
    lists.push(list);
    countRolls(tubing, list, parts);
  }
  return { lists, problems: [...problems, ...lists.flatMap((list) => list.problems)] };
}

function countRolls(tubing: Tubing, list: CutList, parts: PartsList): void {
  for (const roll of [...list.rolls].sort((a, b) => b.lengthM - a.lengthM)) {
    parts.countPart({
      id: tubing.id,
      name: tubing.name,
      unit: 'roll',
      quantity: 1,
      eachM: roll.lengthM,
      from: list.cuts.filter((cut) => cut.rollNumber === roll.number).map((cut) => cut.runId),
      unitPrice: tubing.pricePerM,
    });
  }
  parts.countUse(
    'splice',
    list.splices.length,
    list.splices.map((splice) => splice.runId),
  );
}
