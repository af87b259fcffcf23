import type { Plan } from '../plan';
import { landscapeCoefficient } from './plantFactors';
import type { BedChoice, HydrozoneInput } from './types';

/** A bed as the budget receives it. `zoneId` null: not yet on a valve. */
export interface BudgetBed {
  readonly zoneId: string | null;
  readonly areaM2: number;
  readonly choice: BedChoice;
}

/**
 * The lines of the budget: one a zone for its regular ground and one for its special ground, in the order of the beds.
 * Beds of different plants on one valve are area-weighted, as 23 CCR 492.7(a)(2) allows. The plant factor is the
 * ordinance's own: density and microclimate belong to the calendar, not to the sheet.
 */
export function hydrozonesOf(plan: Plan, beds: readonly BudgetBed[]): readonly HydrozoneInput[] {
  const lines = new Map<string, HydrozoneInput>();
  for (const bed of beds) {
    const drawn = plan.beds[bed.choice.bedId];
    const special = drawn?.specialArea ?? false;
    const zoneId = bed.zoneId ?? bed.choice.bedId;
    const key = `${zoneId} ${special ? 'special' : 'regular'}`;
    const factor = landscapeCoefficient(bed.choice.plants, bed.choice.sun).speciesRatio;
    const before = lines.get(key);
    const areaM2 = (before?.areaM2 ?? 0) + bed.areaM2;
    const weighted = (before?.plantFactor ?? 0) * (before?.areaM2 ?? 0) + factor * bed.areaM2;
    const name = drawn === undefined || drawn.name === '' ? bed.choice.bedId : drawn.name;
    lines.set(key, {
      zoneId,
      name: before === undefined ? name : `${before.name}, ${name}`,
      plantFactor: areaM2 > 0 ? weighted / areaM2 : factor,
      areaM2,
      special,
    });
  }
  return [...lines.values()];
}
