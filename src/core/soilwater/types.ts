import type { Dripline } from '../catalog';
import type { PlantNeed, SoilClass, Sun } from '../plan';
import type { Problem, Traced } from '../units';

/** What was chosen for one bed and why; made before routing. */
export interface BedChoice {
  readonly bedId: string;
  readonly soil: SoilClass;
  readonly plants: PlantNeed;
  readonly sun: Sun;
  readonly dripline: Dripline;
  readonly rowSpacingM: number;
  readonly rowStretchRatio: number;
  readonly intakeRateMs: number;
  readonly wettedDiameterM: { readonly low: number; readonly high: number };
  readonly reasons: readonly Problem[];
  readonly traces: readonly Traced[];
}

export interface ZoneMonth {
  /** 1..12 */
  readonly month: number;
  readonly needM: number;
  /** Whole minutes a watering day. */
  readonly minutesPerDay: number;
  readonly daysPerWeek: number;
  readonly cycles: number;
  readonly minutesPerCycle: number;
  readonly soakMinutes: number;
}

export interface ZoneSchedule {
  readonly zoneId: string;
  readonly applicationRateMs: number;
  readonly months: readonly ZoneMonth[];
  readonly establishment: readonly {
    readonly week: number;
    readonly minutesPerDay: number;
    readonly daysPerWeek: number;
    readonly cycles: number;
  }[];
}

/** One start in the week: minutes after Sunday midnight. */
export interface Start {
  readonly zoneId: string;
  readonly month: number;
  readonly startMin: number;
  readonly minutes: number;
}

export interface Schedule {
  readonly zones: readonly ZoneSchedule[];
  readonly timetable: readonly Start[];
  readonly problems: readonly Problem[];
  readonly traces: readonly Traced[];
}

export interface WaterBudget {
  readonly regionKey: string;
  readonly annualEtM: number;
  readonly allowanceM3: number;
  readonly estimatedUseM3: number;
  readonly hydrozones: readonly {
    readonly zoneId: string;
    readonly name: string;
    readonly plantFactor: number;
    readonly irrigationEfficiency: number;
    readonly areaM2: number;
    readonly etwuM3: number;
    readonly special: boolean;
  }[];
  readonly savingAgainstSprayM3: number;
  readonly problems: readonly Problem[];
  readonly traces: readonly Traced[];
}
