import type { Catalog } from '../catalog';
import type { BedLayout } from '../layout';
import type { Plan } from '../plan';
import type { BedChoice, Schedule, WaterBudget } from '../soilwater';
import type { SupplyDesign } from '../supply';
import type { Takeoff } from '../takeoff';
import type { Problem, Traced } from '../units';
import type { Foresight } from './foresight';

/** One bed, or one part of a repaired bed, with every result that belongs to it alone. */
export interface DesignedBed {
  readonly id: string;
  readonly sourceBedId: string;
  readonly name: string;
  readonly mark: string;
  readonly choice: BedChoice;
  readonly runLimitM: number;
  readonly layout: BedLayout;
  readonly applicationRateMs: number | null;
  readonly nominalApplicationRateMs: number;
  readonly zoneId: string | null;
}

/** Everything computed from a plan. Never edited; thrown away and made again. */
export interface Design {
  readonly plan: Plan;
  readonly catalog: Catalog;
  readonly beds: readonly DesignedBed[];
  readonly supply: SupplyDesign;
  readonly schedule: Schedule;
  readonly waterBudget: WaterBudget;
  readonly takeoff: Takeoff;
  /** Review findings and every stage's problems, sorted by severity, then code, then place. */
  readonly findings: readonly Problem[];
  readonly traces: readonly Traced[];
  readonly quality: 'preview' | 'finished';
  /** Null until it has been worked out (`withForesight`). */
  readonly foresight: Foresight | null;
}
