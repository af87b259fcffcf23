import { HEAD_M_PER_PSI, METRES_PER_FOOT, METRES_PER_INCH, type SiUnit, type Source } from '../units';

/** One default: SI value, its unit and where it comes from. */
export interface Default {
  readonly value: number;
  readonly unit: SiUnit;
  readonly source: Source;
}

const COMMON: Source = { text: 'common practice, no source', standing: 'common practice' };
const OURS: Source = { text: 'ours, stated', standing: 'ours' };
const published = (text: string): Source => ({ text, standing: 'published' });
const inches = (value: number, source: Source): Default => ({
  value: value * METRES_PER_INCH,
  unit: 'm',
  source,
});
const feet = (value: number, source: Source): Default => ({
  value: value * METRES_PER_FOOT,
  unit: 'm',
  source,
});
const psi = (value: number, source: Source): Default => ({
  value: value * HEAD_M_PER_PSI,
  unit: 'm of head',
  source,
});
const feetPerSecond = (value: number, source: Source): Default => ({
  value: value * METRES_PER_FOOT,
  unit: 'm/s',
  source,
});
const hours = (value: number): Default => ({
  value,
  unit: 'hours of work',
  source: { text: 'a crew of two, from memory; put in your own figures', standing: 'from memory' },
});
const count = (value: number, source: Source): Default => ({ value, unit: 'count', source });
const ratio = (value: number, source: Source): Default => ({ value, unit: 'ratio', source });

const FOUNDATION: Source = {
  text: "common practice and builders' manuals; the geotechnical report outranks it",
  standing: 'common practice',
};

/** Every default of the job, in one table. `plan.settings` overrides any of them by key. */
export const DEFAULTS = {
  offsetPavingM: inches(3, COMMON),
  offsetLawnM: inches(3, COMMON),
  offsetOpenM: inches(3, COMMON),
  offsetBoundaryM: inches(4, COMMON),
  offsetObstacleM: inches(6, COMMON),
  offsetFoundationM: inches(12, FOUNDATION),
  offsetFoundationClayM: inches(24, FOUNDATION),
  stapleSandM: feet(3, COMMON),
  stapleLoamM: feet(4, COMMON),
  stapleClayM: feet(5, COMMON),
  stapleWidestM: feet(5, COMMON),
  stapleSteepSlopeRatio: ratio(0.1, OURS),
  rowStretchRatio: ratio(0.15, { text: 'our choice, shown', standing: 'ours' }),
  rowRoundingUsM: inches(0.5, { text: 'our choice: one jig serves the bed', standing: 'ours' }),
  rowRoundingMetricM: {
    value: 0.01,
    unit: 'm',
    source: { text: 'our choice: one jig serves the bed', standing: 'ours' },
  },
  tubingWasteRatio: ratio(0.05, COMMON),
  pipeWasteRatio: ratio(0.05, COMMON),
  wireSlackRatio: ratio(0.1, COMMON),
  headerDepthM: inches(12, {
    text: 'usual trade depth 6 to 12 in; local code decides',
    standing: 'from memory',
  }),
  mainDepthM: inches(18, {
    text: 'usual trade depth 12 to 18 in; local code decides',
    standing: 'from memory',
  }),
  sleeveDepthM: inches(24, {
    text: '18 to 24 in under drives, sleeved; local code decides',
    standing: 'from memory',
  }),
  sleeveBeyondM: inches(12, COMMON),
  mulchDepthM: inches(3, published('23 CCR 492.6: 3 in minimum on exposed planting soil')),
  velocityLimitMs: feetPerSecond(
    5,
    published(
      'general velocity advice for Schedule 40 PVC; Broward County amendment to Florida plumbing appendix F',
    ),
  ),
  flushVelocityMs: feetPerSecond(
    1,
    published('University of California ANR, Maintenance of Microirrigation Systems'),
  ),
  measuredFlowShareRatio: ratio(0.75, COMMON),
  highestStaticHeadM: psi(80, {
    text: 'plumbing practice: above 80 psi a pressure regulator is required; local code decides',
    standing: 'common practice',
  }),
  assumedStaticHeadM: psi(50, { text: 'ours, stated: no pressure was measured', standing: 'ours' }),
  runInletHeadM: psi(20, {
    text: 'ours, stated: a 25 psi regulator less what headers may take',
    standing: 'ours',
  }),
  uniformityWantedRatio: ratio(0.9, { text: 'ASABE EP405 class, from memory', standing: 'from memory' }),
  builtLengthCvRatio: ratio(0.03, { text: 'rows laid by hand, from memory', standing: 'from memory' }),
  supplyHeadCvRatio: ratio(0.07, {
    text: 'mains pressure about its measured value, from memory',
    standing: 'from memory',
  }),
  waterTemperatureK: { value: 293.15, unit: 'K', source: { text: 'ours, stated: 20 C', standing: 'ours' } },
  elevationPerCheckValveM: feet(5, COMMON),
  elevationSpreadPlainM: feet(
    8,
    published(
      'Alabama Administrative Code 420-3-1-.62: at most 8 ft of elevation with non-compensating emitters',
    ),
  ),
  steepSlopeRatio: ratio(0.25, published('23 CCR 492.7: slopes over 25 percent')),
  steepSlopeRateMs: {
    value: (0.75 * METRES_PER_INCH) / 3600,
    unit: 'm/s',
    source: published('23 CCR 492.7: at most 0.75 in/h on slopes over 25 percent'),
  },
  slopeMixLimitRatio: ratio(0.1, OURS),
  coverageWantedRatio: ratio(0.95, OURS),
  flushReachM: feet(3, OURS),
  treeRingRadiusM: feet(2, COMMON),
  // A crew wants fewer, longer rows. Of 19 beds laid with 0.3 m and with 1 m, the eight that differ have 508 turns instead of
  // 551 at 1 m (a parking island 56 instead of 91), with 0.8 % more tubing; one, a taper, has nine turns more.
  turnWeightM: { value: 1, unit: 'm', source: OURS },
  serviceVelocityMs: feetPerSecond(5, {
    text: 'service line limit 5 to 7 ft/s, from memory',
    standing: 'from memory',
  }),
  glueWeldsPerCan: count(60, {
    text: 'half a litre of cement on 3/4 to 1 in pipe, from memory',
    standing: 'from memory',
  }),
  labourTubingHoursPerM: hours(0.01),
  labourStapleHoursEach: hours(0.004),
  labourFittingHoursEach: hours(0.05),
  labourTrenchHoursPerM: hours(0.12),
  labourSleeveHoursPerM: hours(0.5),
  labourAssemblyHoursEach: hours(2),
  labourWireHoursPerM: hours(0.015),
  labourControllerHoursEach: hours(1.5),
  labourFlushAndTestHoursPerZone: hours(1),
} as const satisfies Readonly<Record<string, Default>>;

/** Names of the defaults. */
export type SettingKey = keyof typeof DEFAULTS;

/**
 * The value in force: the plan's own where it sets one, else the default. SI.
 *
 * @param settings `plan.settings`; keys that name no default are ignored
 */
export function setting(settings: Readonly<Record<string, number>>, key: SettingKey): number {
  return settings[key] ?? DEFAULTS[key].value;
}

/** Where the value in force comes from. */
export function settingSource(settings: Readonly<Record<string, number>>, key: SettingKey): Source {
  return settings[key] === undefined
    ? DEFAULTS[key].source
    : { text: "the designer's setting", standing: 'user' };
}

/** What is assumed of a bed and its site where nothing was said; each use is listed as a note. */
export const ASSUMED = { soil: 'loam', plants: 'moderate', sun: 'full-sun' } as const;
