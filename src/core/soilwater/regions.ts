import { M3_PER_US_GALLON, METRES_PER_FOOT, METRES_PER_INCH, type Source } from '../units';
import { SOURCES } from './sources';

/** The factors a place sets for its water budget. Local ordinance outranks every row of this table. */
export interface BudgetRegion {
  readonly key: string;
  readonly name: string;
  /** Share of reference ET allowed on regular area, and the limit on its average. */
  readonly etafRatio: number;
  /** Factor of special area. */
  readonly specialEtafRatio: number;
  readonly dripEfficiencyRatio: number;
  readonly sprayEfficiencyRatio: number;
  /** Gallons a square foot an inch of water, as the sheet prints it, over the exact value; 1 where no constant is printed. */
  readonly constantRatio: number;
  readonly source: Source;
}

/** 0.62 gal/ft2/in as printed, over 7.480519/12. Ordinances round; their sheets are filled in as printed. */
const PRINTED_CONSTANT = 0.62;
const EXACT_CONSTANT = (METRES_PER_INCH * METRES_PER_FOOT ** 2) / M3_PER_US_GALLON;
const AS_PRINTED = PRINTED_CONSTANT / EXACT_CONSTANT;
const READ = (text: string): Source => ({ text, standing: 'published' });

/** Regions whose factors were read. Drip 0.81 and spray 0.75: 23 CCR 492.4; the 2009 edition asks at least 0.71 of any method. */
export const BUDGET_REGIONS: readonly BudgetRegion[] = [
  {
    key: 'california-residential',
    name: 'California, residential (2015)',
    etafRatio: 0.55,
    specialEtafRatio: 1,
    dripEfficiencyRatio: 0.81,
    sprayEfficiencyRatio: 0.75,
    constantRatio: AS_PRINTED,
    source: SOURCES.ordinance,
  },
  {
    key: 'california-non-residential',
    name: 'California, non-residential (2015)',
    etafRatio: 0.45,
    specialEtafRatio: 1,
    dripEfficiencyRatio: 0.81,
    sprayEfficiencyRatio: 0.75,
    constantRatio: AS_PRINTED,
    source: SOURCES.ordinance,
  },
  {
    key: 'california-2009',
    name: 'California, 2009 edition',
    etafRatio: 0.7,
    specialEtafRatio: 1,
    dripEfficiencyRatio: 0.71,
    sprayEfficiencyRatio: 0.71,
    constantRatio: AS_PRINTED,
    source: READ('California model ordinance 2009, as adopted in Colton O-008-14'),
  },
  {
    key: 'california-existing',
    name: 'California, existing landscape over an acre',
    etafRatio: 0.8,
    specialEtafRatio: 1,
    dripEfficiencyRatio: 0.81,
    sprayEfficiencyRatio: 0.75,
    constantRatio: AS_PRINTED,
    source: READ('Baldwin Park municipal code'),
  },
  {
    key: 'san-diego',
    name: 'San Diego, local',
    etafRatio: 0.42,
    specialEtafRatio: 1,
    dripEfficiencyRatio: 0.81,
    sprayEfficiencyRatio: 0.75,
    constantRatio: AS_PRINTED,
    source: READ('San Diego regulations ch. 27'),
  },
  {
    key: 'metric',
    name: 'Metric form, no local factors',
    etafRatio: 0.55,
    specialEtafRatio: 1,
    dripEfficiencyRatio: 0.81,
    sprayEfficiencyRatio: 0.75,
    constantRatio: 1,
    source: { text: 'ours, stated: litres = mm x m2, factors as California residential', standing: 'ours' },
  },
];

/** The region used where the plan names none. */
export const ASSUMED_REGION_KEY = 'california-residential';

/** The region of a key, or undefined. */
export function budgetRegionFor(key: string): BudgetRegion | undefined {
  return BUDGET_REGIONS.find((region) => region.key === key);
}
