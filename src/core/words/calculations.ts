import type { Source } from '../units';
import { soilwaterFigureNames } from './soilwater';
import { saySource } from './source';

/** Names of figures that other rooms trace. */
const NAMES: Readonly<Record<string, string>> = {
  ...soilwaterFigureNames,
  'hydraulics.run-limit': 'Longest run',
  'supply.usable-flow': 'Flow that may be used',
  'supply.zone-flow': 'Flow of the zone, solved',
  'supply.required-source-head': 'Pressure needed at the connection',
};

/** The name of a traced figure; a code no table knows is read as plain words. */
export function figureName(code: string): string {
  const known = NAMES[code];
  if (known !== undefined) return known;
  const words = (code.split('.')[1] ?? code).replace(/-/g, ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Headings and sentences of the calculations. */
export const calculationText = {
  site: 'Site and supply',
  bed: (mark: string, name: string) => (name === `Bed ${mark}` ? name : `Bed ${mark}, ${name}`),
  zone: (number: number) => `Zone ${number}`,
  calendar: 'Calendar',
  parts: 'Parts, and where their figures are from',
  budget: 'Water budget',
  budgetTotals: 'Allowance and use',
  measured: 'Measured at the source',
  assumptions: 'Findings and assumptions',
  uniformity: 'Pressure and uniformity, by zone',
  source: (source: Source) => `Source: ${saySource(source)}`,
  from: (value: string, from: string) => `${value} (${from})`,
  limit: (value: string, limit: string) => `found ${value}, limit ${limit}`,
  notMeasured: 'not measured',
  heads: {
    part: 'part',
    source: 'where its figures are from',
    name: 'hydrozone',
    zone: 'zone',
    factor: 'plant factor',
    efficiency: 'efficiency',
    etaf: 'ETAF',
    area: 'area',
    use: 'use a year',
    special: 'special',
    what: 'what',
    value: 'value',
    lowest: 'lowest',
    mean: 'mean',
    highest: 'highest',
    eu: 'EU',
    du: 'DU',
    su: 'SU',
    flush: 'flush speed',
  },
  yes: 'yes',
  budgetRows: {
    region: 'Ordinance',
    eto: 'Reference ET, a year',
    area: 'Landscape area, special area included',
    specialArea: 'Special landscape area',
    average: 'Average factor of regular areas',
    limit: 'Limit of the average factor',
    sitewide: 'Site-wide factor, special area included (not limited)',
    allowance: 'Maximum allowed, a year',
    use: 'Estimated use, a year',
    saving: 'Saved against spray',
    averageHolds: 'Average factor is within its limit',
    allowanceHolds: 'Estimated use is within the allowance',
  },
  holds: 'yes',
  holdsNot: 'NO',
  sourceRows: {
    static: 'Static pressure',
    lowest: 'Lowest static of the year',
    highest: 'Highest static of the year',
    testFlow: 'Flow of the test',
    testHead: 'Pressure during the test',
    on: 'Measured on',
    by: 'Measured by',
    water: 'Water',
    meter: 'Meter size',
    service: 'Service pipe bore',
  },
} as const;
