import type { SettingKey } from '../core/catalog';
import type { Printer } from '../core/units';
import type { Measure } from './state/read';

/** A default of the job as the desk offers it: its key, what a person calls it, and how it is read and written. */
export type UsualFigure = readonly [key: SettingKey, name: string, measure: Measure];

/** Every default of the job, on the page of the step that it bears on. What is set there holds for the plan alone. */
export const USUAL_FIGURES = {
  water: [
    ['assumedStaticHeadM', 'Pressure where none is measured', 'pressure'],
    ['highestStaticHeadM', 'Pressure that wants a regulator', 'pressure'],
    ['measuredFlowShareRatio', 'Of the tested flow counted on', 'share'],
    ['serviceVelocityMs', 'Speed in the service line', 'velocity'],
    ['waterTemperatureK', 'Temperature of the water', 'temperature'],
    ['supplyHeadCvRatio', 'Pressure varies about its figure by', 'share'],
  ],
  beds: [
    ['offsetOpenM', 'Off open ground', 'spacing'],
    ['offsetPavingM', 'Off paving', 'spacing'],
    ['offsetLawnM', 'Off lawn', 'spacing'],
    ['offsetBoundaryM', 'Off a boundary', 'spacing'],
    ['offsetObstacleM', 'Off an obstacle', 'spacing'],
    ['offsetFoundationM', 'Off a foundation', 'spacing'],
    ['offsetFoundationClayM', 'Off a foundation in clay', 'spacing'],
    ['slopeMixLimitRatio', 'Slope from which a bed is sloping', 'share'],
    ['steepSlopeRatio', 'Slope from which a bed is steep', 'share'],
    ['steepSlopeRateMs', 'Most water on steep ground', 'rate'],
    ['mulchDepthM', 'Depth of mulch', 'spacing'],
  ],
  tubing: [
    ['rowStretchRatio', 'Rows may widen by', 'share'],
    ['rowRoundingUsM', 'Rows rounded to', 'spacing'],
    ['rowRoundingMetricM', 'Rows rounded to', 'spacing'],
    ['turnWeightM', 'A turn counts as tubing of', 'length'],
    ['coverageWantedRatio', 'Ground to be reached', 'share'],
    ['uniformityWantedRatio', 'Evenness wanted', 'share'],
    ['runInletHeadM', 'Pressure where a run begins', 'pressure'],
    ['treeRingRadiusM', 'Radius of a ring round a tree', 'length'],
    ['flushReachM', 'Reach to a flush valve', 'length'],
    ['builtLengthCvRatio', 'Rows come out other by', 'share'],
  ],
  zones: [
    ['headerDepthM', 'Depth of headers', 'spacing'],
    ['mainDepthM', 'Depth of the main', 'spacing'],
    ['sleeveDepthM', 'Depth of sleeves', 'spacing'],
    ['sleeveBeyondM', 'Sleeves reach beyond paving by', 'spacing'],
    ['velocityLimitMs', 'Most speed in a pipe', 'velocity'],
    ['flushVelocityMs', 'Least speed for flushing', 'velocity'],
    ['elevationPerCheckValveM', 'Height held by a check valve', 'length'],
    ['elevationSpreadPlainM', 'Height a zone of plain tubing spans', 'length'],
  ],
  sheet: [
    ['tubingWasteRatio', 'Tubing bought over', 'share'],
    ['pipeWasteRatio', 'Pipe bought over', 'share'],
    ['wireSlackRatio', 'Wire bought over', 'share'],
    ['stapleSandM', 'Staples apart in sand', 'spacing'],
    ['stapleLoamM', 'Staples apart in loam', 'spacing'],
    ['stapleClayM', 'Staples apart in clay', 'spacing'],
    ['stapleWidestM', 'Staples never further apart than', 'spacing'],
    ['stapleSteepSlopeRatio', 'Slope that asks closer staples', 'share'],
    ['glueWeldsPerCan', 'Joints to a can of cement', 'number'],
    ['labourTubingHoursPerM', 'Laying tubing', 'hours-along'],
    ['labourTrenchHoursPerM', 'Digging trench', 'hours-along'],
    ['labourSleeveHoursPerM', 'Setting sleeves', 'hours-along'],
    ['labourWireHoursPerM', 'Laying wire', 'hours-along'],
    ['labourStapleHoursEach', 'A staple', 'hours'],
    ['labourFittingHoursEach', 'A fitting', 'hours'],
    ['labourAssemblyHoursEach', 'A valve assembly', 'hours'],
    ['labourControllerHoursEach', 'A controller', 'hours'],
    ['labourFlushAndTestHoursPerZone', 'Flushing and testing a zone', 'hours'],
  ],
} as const satisfies Readonly<Record<string, readonly UsualFigure[]>>;

const OF_SYSTEM: Readonly<Partial<Record<SettingKey, Printer['system']>>> = {
  rowRoundingUsM: 'us',
  rowRoundingMetricM: 'metric',
};

/** The usual figures of a page that bear on a plan written in this system. */
export const usualFiguresOf = (
  page: keyof typeof USUAL_FIGURES,
  system: Printer['system'],
): readonly UsualFigure[] => {
  const all: readonly UsualFigure[] = USUAL_FIGURES[page];
  return all.filter(([key]) => (OF_SYSTEM[key] ?? system) === system);
};

/** Figures that may be nothing at all: distances kept off, what is bought over, hours that are not reckoned. */
const MAY_BE_NOTHING = /^offset|Ratio$|^labour|Waste|Slack/;
/** Shares that are of one whole; slopes may be steeper than one to one. */
const OF_ONE_WHOLE = /Ratio$/;
const OF_SLOPE = /[sS]lope/;

/** Why a figure cannot stand for a default; null where it can. */
export function faultOfUsual(key: SettingKey, value: number): string | null {
  if (value < 0) return 'That cannot be less than nothing.';
  if (value === 0 && !MAY_BE_NOTHING.test(key)) return 'That must be more than nothing.';
  if (OF_ONE_WHOLE.test(key) && !OF_SLOPE.test(key) && value > 1)
    return 'That cannot be more than the whole.';
  return null;
}
