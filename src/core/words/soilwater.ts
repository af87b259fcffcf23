import type { Params, Printer } from '../units';
import { figure, type Sentences, text } from './types';

/** Texture classes as a person says them. */
export const SOIL_NAMES: Readonly<Record<string, string>> = {
  sand: 'sand',
  'loamy-sand': 'loamy sand',
  'sandy-loam': 'sandy loam',
  loam: 'loam',
  'silt-loam': 'silt loam',
  silt: 'silt',
  'sandy-clay-loam': 'sandy clay loam',
  'clay-loam': 'clay loam',
  'silty-clay-loam': 'silty clay loam',
  'sandy-clay': 'sandy clay',
  'silty-clay': 'silty clay',
  clay: 'clay',
};
/** Plant classes as a person says them. */
export const PLANT_NAMES: Readonly<Record<string, string>> = {
  'very-low': 'very low water',
  low: 'low water',
  moderate: 'moderate water',
  high: 'high water',
};
/** Sun as a person says it. */
export const SUN_NAMES: Readonly<Record<string, string>> = {
  'full-sun': 'full sun',
  'part-shade': 'part shade',
  shade: 'shade',
};
/** Months in full, January first. */
export const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;
/** Months in short, January first. */
export const MONTH_NAMES = [
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
] as const;
/** Days of the week in short, Sunday first. */
export const DAY_NAMES = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'] as const;

/** Name of a month 1..12. */
export const monthName = (month: number): string => MONTH_NAMES[month - 1] ?? '';

const named = (names: Readonly<Record<string, string>>, params: Params, key: string): string =>
  names[text(params, key)] ?? text(params, key);
const zone = (params: Params): string => `Zone ${text(params, 'zoneId').replace(/^zone-/, '')}`;
const bed = (params: Params): string => text(params, 'bedName');
const list = (params: Params, key: string, names: Readonly<Record<string, string>>): string =>
  text(params, key)
    .split(', ')
    .map((item) => names[item] ?? item)
    .join(', ');
const percent = (ratio: number, print: Printer): string => print.percent(ratio);

/** "Jan to Mar, Nov" from month numbers as text. */
function months(params: Params): string {
  const numbers = text(params, 'months')
    .split(', ')
    .map(Number)
    .filter((month) => month >= 1 && month <= 12);
  const runs: number[][] = [];
  for (const month of numbers) {
    const last = runs.at(-1);
    if (last !== undefined && last.at(-1) === month - 1) last.push(month);
    else runs.push([month]);
  }
  return runs
    .map((run) =>
      run.length < 3
        ? run.map(monthName).join(', ')
        : `${monthName(run[0] ?? 0)} to ${monthName(run.at(-1) ?? 0)}`,
    )
    .join(', ');
}

const assumed =
  (what: string, names: Readonly<Record<string, string>>, key: string, next: string) => (params: Params) => ({
    what: `${bed(params)}: ${named(names, params, key)} is assumed; neither bed nor site says.`,
    why: `Tubing, minutes and the water budget follow from ${what}.`,
    next,
  });

const choiceSentences: Sentences = {
  'soilwater.soil-assumed': assumed(
    'the soil',
    SOIL_NAMES,
    'soil',
    'Shake a jar of the soil with water, let it settle for a day, and enter the layers; or name the texture.',
  ),
  'soilwater.plants-assumed': assumed('the plants', PLANT_NAMES, 'plants', 'Choose the class of the plants.'),
  'soilwater.sun-assumed': assumed('sun and shade', SUN_NAMES, 'sun', 'Say how the bed lies to the sun.'),
  'soilwater.dripline-by-soil': (p, print) => ({
    what: `${bed(p)}: ${print.emitterFlow(figure(p, 'emitterFlowM3s'))} emitters every ${print.small(figure(p, 'emitterSpacingM'))}, for ${named(SOIL_NAMES, p, 'soil')}.`,
    why: 'Water sinks faster than it spreads in sand and spreads further than it sinks in clay: sand takes more flow and closer emitters, clay less flow and wider ones.',
    next: 'Name another dripline on the bed where the planting asks for it.',
  }),
  'soilwater.dripline-holds-water': (p, print) => ({
    what: `${bed(p)}: emitters that hold their water are used on a slope of ${percent(figure(p, 'slopeRatio'), print)}.`,
    why: 'Plain tubing drains to its low end after every run and floods the foot of the slope.',
    next: 'Check that the pressure opens them at the far end.',
  }),
  'soilwater.dripline-lower-flow': (p, print) => ({
    what: `${bed(p)}: the flow is lowered to ${print.emitterFlow(figure(p, 'emitterFlowM3s'))} for the slope.`,
    why: `On ${percent(figure(p, 'slopeRatio'), print)} this soil takes ${print.rate(figure(p, 'intakeMs'))}, less than the usual tubing gives.`,
    next: 'Keep the cycles and soaks of the calendar all the same.',
  }),
  'soilwater.dripline-by-hand': (p, print) => ({
    what: `${bed(p)}: ${text(p, 'driplineName')}, ${print.emitterFlow(figure(p, 'emitterFlowM3s'))} every ${print.small(figure(p, 'emitterSpacingM'))}, as chosen.`,
    why: 'The plan names it, so the soil was not asked.',
    next: 'Clear the choice to let the soil decide.',
  }),
  'soilwater.dripline-unknown': (p) => ({
    what: `${bed(p)}: the parts list holds no dripline "${text(p, 'driplineId')}".`,
    why: 'Its flow and spacing are not known; the soil’s usual tubing is drawn instead.',
    next: 'Open the parts file that holds it, or choose another.',
  }),
  'soilwater.row-spacing-chosen': (p, print) => ({
    what: `${bed(p)}: rows ${print.small(figure(p, 'rowSpacingM'))} apart.`,
    why: `Usual for ${named(SOIL_NAMES, p, 'soil')} and ${named(PLANT_NAMES, p, 'plants')} plants; common practice, no source.`,
    next: 'Set another spacing on the bed where the plants stand closer.',
  }),
  'soilwater.row-spacing-by-hand': (p, print) => ({
    what: `${bed(p)}: rows ${print.small(figure(p, 'rowSpacingM'))} apart, as chosen.`,
    why: 'The plan names the spacing, so soil and plants were not asked.',
    next: 'Clear the choice to let them decide.',
  }),
  'soilwater.rate-above-intake': (p, print) => ({
    what: `${bed(p)}: water comes at ${print.rate(figure(p, 'rateMs'))}; the soil takes ${print.rate(figure(p, 'intakeMs'))}.`,
    why: 'Water that cannot go in stands, then runs off.',
    next: 'Keep the cycles and soaks of the calendar; they hold every run below what the surface can store.',
  }),
  'soilwater.wetted-ground-narrow': (p, print) => ({
    what: `${bed(p)}: one emitter wets ${print.small(figure(p, 'lowM'))} to ${print.small(figure(p, 'highM'))}, too little for a spacing of ${print.small(figure(p, 'spacingM'))}.`,
    why: 'Dry stripes stay between rows where wetted ground does not reach four fifths of the spacing.',
    next: 'Lay rows or emitters closer. Dig after the first long run and look: both models are rough.',
  }),
  'soilwater.intake-sources-disagree': (p, print) => ({
    what: `Sources for the intake of ${named(SOIL_NAMES, p, 'soil')} differ ${figure(p, 'times').toFixed(0)} times: ${print.rate(figure(p, 'usedValue'))} is used, another says ${print.rate(figure(p, 'otherValue'))}.`,
    why: `They mean different things: short runs with storage, allowed sprinkler rates, steady saturated flow. Used: ${text(p, 'usedSource')}. Other: ${text(p, 'otherSource')}.`,
    next: 'Watch the first runs; shorten the cycles if water stands or runs off.',
  }),
  'soilwater.available-water-sources-disagree': (p, print) => ({
    what: `Sources for the water ${named(SOIL_NAMES, p, 'soil')} holds differ: ${percent(figure(p, 'usedValue'), print)} of its depth is used, another says ${percent(figure(p, 'otherValue'), print)}.`,
    why: `Used: ${text(p, 'usedSource')}. Other: ${text(p, 'otherSource')}.`,
    next: 'Take a soil report’s figure where there is one.',
  }),
};

const jarSentences: Sentences = {
  'soilwater.jar-empty': () => ({
    what: 'The jar test has no layers.',
    why: 'Shares of sand, silt and clay are heights over the whole settled height.',
    next: 'Measure the three settled layers from the bottom up.',
  }),
  'soilwater.jar-layer-negative': () => ({
    what: 'A layer of the jar test is below zero or not a number.',
    why: 'A settled layer has a height, or is not there at all.',
    next: 'Measure the three settled layers from the bottom up; write 0 for one that is missing.',
  }),
  'soilwater.jar-near-edge': (p) => ({
    what: `The jar says ${named(SOIL_NAMES, p, 'soil')}, but lies close to ${list(p, 'orElse', SOIL_NAMES)}.`,
    why: 'Layers are read to about a twentieth of the jar, and settled height is not quite weight.',
    next: 'Roll a damp ribbon of the soil as a second test, or send a sample to a laboratory.',
  }),
};

const weatherSentence =
  (what: string): Sentences[string] =>
  (p) => ({
    what: `Weather of ${monthName(figure(p, 'month'))}: ${what} (${figure(p, 'value')}).`,
    why: 'Reference ET cannot be computed from it, and no month is guessed.',
    next: 'Check the figure and its unit in the weather record.',
  });

const climateSentences: Sentences = {
  'soilwater.climate-assumed': (p) => ({
    what: `No reference ET is given${text(p, 'wanted') === '' ? '' : ` and "${text(p, 'wanted')}" has no table`}; ${text(p, 'place')} is assumed.`,
    why: 'Every minute of the calendar and every gallon of the budget follow from it.',
    next: 'Pick a place near the site, type twelve months from the local table, or compute them from weather.',
  }),
  'soilwater.climate-from-memory': (p) => ({
    what: `The monthly reference ET of ${text(p, 'place')} is written from memory.`,
    why: 'It adds up to the annual total, but single months were not read from the regulation.',
    next: 'Compare it with appendix A of the ordinance before filing.',
  }),
  'soilwater.rain-counted': (p, print) => ({
    what: `${percent(figure(p, 'shareRatio'), print)} of the rain is counted as watering.`,
    why: 'The optional effective-rain form allows up to a quarter; the rest runs off, soaks past or falls out of season.',
    next: 'Clear the rain table to count none.',
  }),
  'soilwater.weather-temperatures-swapped': weatherSentence('the high is below the low'),
  'soilwater.weather-temperature-range': weatherSentence('no place on Earth has this temperature'),
  'soilwater.weather-humidity-range': weatherSentence('the humidity cannot be'),
  'soilwater.weather-sun-range': weatherSentence('the sunshine or radiation cannot be'),
  'soilwater.weather-wind-range': weatherSentence('the wind or its height cannot be'),
  'soilwater.weather-twelve-months': (p) => ({
    what: `The weather holds ${figure(p, 'value')} months, not twelve.`,
    why: 'A year is computed as a whole: each month’s ground heat comes from its neighbours.',
    next: 'Give twelve months, January first.',
  }),
};

const scheduleSentences: Sentences = {
  'soilwater.bed-not-scheduled': (p) => ({
    what: `${bed(p)} has no watering rate or no valve, so it has no minutes.`,
    why: 'The calendar is made from flow as solved over ground as laid.',
    next: 'Mend what keeps the bed from being routed.',
  }),
  'soilwater.more-than-daily': (p) => ({
    what: `${zone(p)} uses up its ground within a day in ${months(p)}.`,
    why: 'Shallow roots in this soil hold less than one day’s need.',
    next: 'Split the day’s minutes over two starts, mulch, or plant what roots deeper.',
  }),
  'soilwater.run-under-a-minute': (p) => ({
    what: `${zone(p)}: the soil takes only ${figure(p, 'limitS').toFixed(0)} seconds at a time.`,
    why: 'A controller counts whole minutes, so one minute a run is given and some may run off.',
    next: 'Choose a lower flow or wider rows.',
  }),
  'soilwater.bed-overwatered': (p, print) => ({
    what: `${bed(p)} gets ${percent(figure(p, 'overRatio'), print)} more than it needs.`,
    why: `It shares a valve with ${text(p, 'governorName')}, which needs the longest run.`,
    next: 'Give it a valve of its own, or tubing that matches its neighbour.',
  }),
  'soilwater.days-too-few': (p) => ({
    what: `${zone(p)} wants ${figure(p, 'wantedCount')} watering days a week in ${months(p)}; the window gives ${figure(p, 'givenCount')}, with pauses of ${figure(p, 'pauseDays')} days.`,
    why: `Its ground lasts ${figure(p, 'intervalDays')} days. The whole week's water is given on the days there are.`,
    next: 'Allow more days, or expect some stress between them; local rules on days come first.',
  }),
  'soilwater.zones-run-together': (p, print) => ({
    what: `Zones run together in ${months(p)}, never above ${print.flow(figure(p, 'usableFlowM3s'))}.`,
    why: 'One after another they do not fit the watering window.',
    next: 'Check that the controller can run two stations, or widen the window.',
  }),
  'soilwater.week-does-not-fit': (p) => ({
    what: `The week does not fit the watering window in ${months(p)}: ${monthName(figure(p, 'month'))} runs ${figure(p, 'overMinutes')} minutes past it.`,
    why: `The window is ${figure(p, 'windowMinutes')} minutes a day, and the source allows no more zones at once.`,
    next: 'Widen the window, allow more days, or bring more water to the site.',
  }),
};

const budgetSentences: Sentences = {
  'soilwater.region-assumed': (p) => ({
    what: `${text(p, 'regionName')} is assumed for the water budget${text(p, 'wanted') === '' ? '' : `; "${text(p, 'wanted')}" is not a region known here`}.`,
    why: 'Each place sets its own factors.',
    next: 'Choose the region of the site, and ask for the local sheet.',
  }),
  'soilwater.local-ordinance-first': () => ({
    what: 'The local ordinance comes before this budget.',
    why: 'Cities change factors, forms and what counts as special area.',
    next: 'Compare the factors with the local sheet before filing.',
  }),
  'soilwater.average-factor-over': (p) => ({
    what: `The average factor is ${figure(p, 'averageEtafRatio').toFixed(3)}, above the limit of ${figure(p, 'limitEtafRatio').toFixed(2)}.`,
    why: `${text(p, 'regionName')}: plant factor over efficiency, weighted by area, over the regular areas.`,
    next: 'Plant more of the low classes, or mark edible and recycled-water ground as special area.',
  }),
  'soilwater.use-over-allowance': (p, print) => ({
    what: `The estimated use of ${print.volume(figure(p, 'estimatedUseM3'))} a year is above the allowance of ${print.volume(figure(p, 'allowanceM3'))}.`,
    why: `${text(p, 'regionName')} allows no more for this ground.`,
    next: 'Lower the plant classes or the planted area.',
  }),
};

/** Sentences of soil, water and the calendar. */
export const soilwaterSentences: Sentences = {
  ...choiceSentences,
  ...jarSentences,
  ...climateSentences,
  ...scheduleSentences,
  ...budgetSentences,
};

/** Names of this room's traced figures, by their permanent code. */
export const soilwaterFigureNames: Readonly<Record<string, string>> = {
  'soilwater.nominal-application-rate': 'Application rate, nominal',
  'soilwater.laid-application-rate': 'Application rate, as laid',
  'soilwater.allowed-intake': 'Soil intake on the slope',
  'soilwater.wetted-diameter-schwartzman-zur': 'Wetted diameter, first model',
  'soilwater.wetted-diameter-amin-ekhmaj': 'Wetted diameter, second model',
  'soilwater.landscape-coefficient': 'Landscape coefficient',
  'soilwater.annual-reference-et': 'Reference ET of the year',
  'soilwater.monthly-reference-et': 'Reference ET of a month',
  'soilwater.net-need': 'Plant need of the peak month',
  'soilwater.gross-need': 'Depth to give in the peak month',
  'soilwater.readily-available-water': 'Water held between waterings',
  'soilwater.runoff-limit': 'Longest run before run-off',
  'soilwater.run-minutes': 'Run of a watering day, peak month',
  'soilwater.sand-share': 'Sand in the jar',
  'soilwater.silt-share': 'Silt in the jar',
  'soilwater.clay-share': 'Clay in the jar',
  'soilwater.allowance': 'Water allowance of the year',
  'soilwater.estimated-use': 'Estimated use of a hydrozone',
  'soilwater.saving-against-spray': 'Saving against spray',
};
