import type { Dripline } from '../catalog';
import type { PlantNeed, SoilClass, Sun } from '../plan';
import type { Problem, Source, Traced } from '../units';

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

/** A bed as the calendar receives it: what was chosen, and how fast it is watered as laid. */
export interface ScheduledBed {
  readonly bedId: string;
  readonly zoneId: string;
  readonly areaM2: number;
  readonly choice: BedChoice;
  readonly applicationRateMs: number;
}

/** A zone as the calendar receives it. */
export interface ScheduledZone {
  readonly zoneId: string;
  readonly flowM3s: number;
}

/** One month of one zone's calendar. */
export interface ZoneMonth {
  /** 1..12 */
  readonly month: number;
  /** What the plants of the governing bed use in the month, less the rain that counts. */
  readonly needM: number;
  /** Depth to give in the month: need over efficiency, times the plan's seasonal share. */
  readonly grossM: number;
  /** Depth that the whole minutes give in the month, to compare with `grossM`. */
  readonly appliedM: number;
  /** Minutes a watering day before rounding. */
  readonly exactMinutesPerDay: number;
  /** Whole minutes a watering day: cycles x minutes a cycle. */
  readonly minutesPerDay: number;
  readonly daysPerWeek: number;
  /** Days the interval asks for; more than `daysPerWeek` where the watering window allows fewer. */
  readonly wantedDaysPerWeek: number;
  readonly cycles: number;
  readonly minutesPerCycle: number;
  readonly soakMinutes: number;
  /** Whole days the ground lasts between waterings. */
  readonly intervalDays: number;
  readonly wantsMoreThanDaily: boolean;
  /** Longest run before run-off; null where nothing runs off. */
  readonly runLimitS: number | null;
  /** Share of the zone's greatest month: a controller's seasonal percent. */
  readonly seasonalRatio: number;
}

/** One of the first weeks after planting. */
export interface EstablishmentWeek {
  readonly week: number;
  readonly minutesPerDay: number;
  readonly daysPerWeek: number;
  readonly cycles: number;
  readonly minutesPerCycle: number;
  readonly soakMinutes: number;
}

/** The calendar of one zone. */
export interface ZoneSchedule {
  readonly zoneId: string;
  readonly flowM3s: number;
  readonly areaM2: number;
  /** Solved flow over served area of the whole zone. */
  readonly applicationRateMs: number;
  /** The bed that needs the valve open longest in the peak month. */
  readonly governingBedId: string;
  readonly months: readonly ZoneMonth[];
  readonly establishment: readonly EstablishmentWeek[];
  readonly traces: readonly Traced[];
}

/** One start in the week: minutes after Sunday midnight. */
export interface Start {
  readonly zoneId: string;
  readonly month: number;
  readonly startMin: number;
  readonly minutes: number;
}

/** The watering calendar of a plan. */
export interface Schedule {
  readonly zones: readonly ZoneSchedule[];
  readonly timetable: readonly Start[];
  /** Reference ET it was made for, metres of water by month. */
  readonly referenceEtM: readonly number[];
  readonly climate: {
    readonly kind: 'typed' | 'picked' | 'assumed';
    readonly place: string;
    readonly source: Source;
  };
  readonly problems: readonly Problem[];
  readonly traces: readonly Traced[];
}

/** One line of the budget as it goes in. */
export interface HydrozoneInput {
  readonly zoneId: string;
  readonly name: string;
  /** Plant factor, 0..1. */
  readonly plantFactor: number;
  /** Absent: drip as the ordinance sets it. */
  readonly irrigationEfficiency?: number;
  readonly areaM2: number;
  /** Edible gardens, recycled water, play fields: counted with a factor of 1. */
  readonly special: boolean;
}

/** One line of the budget as it comes out. */
export interface Hydrozone {
  readonly zoneId: string;
  readonly name: string;
  readonly plantFactor: number;
  readonly irrigationEfficiency: number;
  readonly areaM2: number;
  /** Plant factor over efficiency; 1 in a special area. */
  readonly etafRatio: number;
  readonly etwuM3: number;
  readonly special: boolean;
}

/** The water budget sheet. */
export interface WaterBudget {
  readonly regionKey: string;
  readonly regionName: string;
  readonly regionSource: Source;
  readonly annualEtM: number;
  /** Limit on the average factor of the regular areas. */
  readonly limitEtafRatio: number;
  /** All landscape area, special area included. */
  readonly landscapeAreaM2: number;
  readonly specialAreaM2: number;
  /** Area-weighted factor of the regular areas; 0 where there are none. */
  readonly averageEtafRatio: number;
  /** With the special area; reported, not limited. */
  readonly sitewideEtafRatio: number;
  readonly averageHolds: boolean;
  readonly allowanceHolds: boolean;
  readonly allowanceM3: number;
  readonly estimatedUseM3: number;
  readonly regularUseM3: number;
  readonly specialUseM3: number;
  readonly hydrozones: readonly Hydrozone[];
  /** The same plants under spray, at the ordinance's spray efficiency, less the estimated use. */
  readonly savingAgainstSprayM3: number;
  readonly sprayEfficiencyRatio: number;
  readonly problems: readonly Problem[];
  readonly traces: readonly Traced[];
}
