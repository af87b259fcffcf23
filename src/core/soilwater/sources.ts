import type { Source } from '../units';

const published = (text: string): Source => ({ text, standing: 'published' });
const fromMemory = (text: string): Source => ({ text: `${text} (from memory)`, standing: 'from memory' });

/** Where each figure of this room comes from. One list, so that a page of sources can be printed from it. */
export const SOURCES = {
  fao56Radiation: published('FAO-56 eq. 21-25'),
  fao56PenmanMonteith: published('FAO-56 eq. 6'),
  fao56Hargreaves: published('FAO-56 eq. 52'),
  fao56AvailableWater: published('FAO-56 table 19, middle of the printed range'),
  fao56Depletion: published('FAO-56 eq. 82-83'),
  fao56Stress: published('FAO-56 eq. 84'),
  districtAvailableWater: published('East Multnomah Soil and Water Conservation District, scheduling page'),
  coloradoIntake: published('Colorado Water Conservation Board, engineering document 52826 p. 22'),
  landscapeIntake: fromMemory('US climate-based controller test protocol, basic intake by texture'),
  landscapeSurfaceStock: fromMemory(
    'US climate-based controller test protocol, surface accumulation by slope',
  ),
  usdaSprinklerRate: fromMemory('USDA greatest application rate table, level ground with cover'),
  sunFactor: {
    text: 'ours, inside the range of the landscape coefficient guide (from memory)',
    standing: 'ours',
  },
  slopeReduction: fromMemory('NRCS irrigation guide, rule of thumb for slope'),
  saturatedConductivity: fromMemory('Rawls, Brakensiek and Miller 1983, Green-Ampt parameters'),
  wettedSpacing: fromMemory('NRCS NEH 623 ch. 7, wetted diameter at least 0.8 of the spacing'),
  textureTriangle: fromMemory('USDA Soil Survey Manual, texture triangle'),
  schwartzmanZur: fromMemory('Schwartzman and Zur 1986'),
  aminEkhmaj: fromMemory('Amin and Ekhmaj 2006'),
  plantFactor: published('23 CCR 491 (2015), plant factor classes; middle of the class'),
  landscapeCoefficient: fromMemory('UC Cooperative Extension landscape coefficient guide 2000'),
  ordinance: published('23 CCR 492.4'),
  effectiveRain: published('Vacaville municipal code 48417262, optional effective rain up to a quarter'),
  sprayComparison: {
    text: 'ours, stated: same plants, areas and reference ET, spray efficiency of 23 CCR 492.4',
    standing: 'ours',
  },
  mulch: published('23 CCR 492.6: 3 in of mulch at the least'),
  steepSlopeCap: published('23 CCR 492.7(a)(1)(V)'),
  mixedHydrozone: published('23 CCR 492.7(a)(2)'),
  applicationRate: published('Exact: flow over the ground one emitter serves (231 cubic inches a gallon)'),
  runTime: published('Exact: depth over rate'),
  volumeOverArea: published('Exact: flow over area'),
  practice: { text: 'common practice, no source', standing: 'common practice' },
  betweenNeighbours: { text: 'ours, stated: between the neighbouring texture classes', standing: 'ours' },
  ours: { text: 'ours, stated', standing: 'ours' },
  user: { text: 'as entered', standing: 'user' },
} as const satisfies Record<string, Source>;
