import type { Catalog } from '../catalog';
import type { BedLayout } from '../layout';
import type { Plan } from '../plan';
import type { BedChoice, Schedule, WaterBudget } from '../soilwater';
import type { SupplyDesign } from '../supply';
import type { Problem } from '../units';

/** One bed as the review looks at it. */
export interface ReviewedBed {
  readonly id: string;
  readonly sourceBedId: string;
  readonly name: string;
  /** Its letter on the sheet, which the marks of its runs begin with. */
  readonly mark?: string;
  readonly choice: BedChoice;
  readonly runLimitM: number;
  readonly layout: BedLayout;
  readonly applicationRateMs: number | null;
  readonly nominalApplicationRateMs: number;
  readonly zoneId: string | null;
}

/** Everything a rule may look at. */
export interface ReviewInput {
  readonly plan: Plan;
  readonly catalog: Catalog;
  readonly beds: readonly ReviewedBed[];
  readonly supply: SupplyDesign;
  readonly schedule: Schedule;
  readonly waterBudget: WaterBudget;
}

/** A rule looks at the design and says what it finds, with limit, source and mends. It changes nothing. */
export type Rule = (input: ReviewInput) => readonly Problem[];
