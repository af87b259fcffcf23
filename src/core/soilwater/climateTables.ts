import { METRES_PER_INCH, type Source } from '../units';

/** Twelve monthly totals of reference ET for a place, metres of water, January first. */
export interface ClimateTable {
  readonly key: string;
  readonly place: string;
  readonly monthlyM: readonly number[];
  readonly source: Source;
}

const VACAVILLE: Source = {
  text: 'Vacaville municipal code, table 14.27.030.A',
  standing: 'published',
};
const APPENDIX_A: Source = {
  text: '23 CCR ch. 2.7 appendix A (from memory; confirm against the regulation)',
  standing: 'from memory',
};

const inches = (key: string, place: string, source: Source, months: readonly number[]): ClimateTable => ({
  key,
  place,
  monthlyM: months.map((month) => month * METRES_PER_INCH),
  source,
});

/** Places to pick from. Those of appendix A are from memory and say so wherever they show. */
export const CLIMATE_TABLES: readonly ClimateTable[] = [
  inches(
    'bakersfield',
    'Bakersfield',
    APPENDIX_A,
    [1, 1.8, 3.5, 4.7, 6.6, 7.7, 8.5, 7.3, 5.3, 3.5, 1.6, 0.9],
  ),
  inches('el-centro', 'El Centro', APPENDIX_A, [2.7, 3.5, 5.6, 7.9, 10.1, 11.1, 11.6, 9.5, 8.3, 6.1, 3.3, 2]),
  inches('fremont', 'Fremont', APPENDIX_A, [1.5, 1.9, 3.4, 4.7, 5.4, 6.3, 6.7, 6, 4.5, 3.4, 1.8, 1.5]),
  inches('fresno', 'Fresno', APPENDIX_A, [0.9, 1.7, 3.3, 4.8, 6.7, 7.8, 8.4, 7.1, 5.2, 3.2, 1.4, 0.6]),
  inches(
    'lagoon-valley',
    'Lagoon Valley',
    VACAVILLE,
    [1.1, 1.7, 2.8, 4, 5.5, 6.1, 7.8, 6, 4.8, 3.1, 1.4, 0.9],
  ),
  inches('livermore', 'Livermore', APPENDIX_A, [1.2, 1.5, 2.9, 4.4, 5.9, 6.6, 7.4, 6.4, 5.3, 3.2, 1.5, 0.9]),
  inches(
    'long-beach',
    'Long Beach',
    APPENDIX_A,
    [1.8, 2.1, 3.3, 3.9, 4.5, 4.3, 5.3, 4.7, 3.7, 2.8, 1.8, 1.5],
  ),
  inches(
    'los-angeles',
    'Los Angeles',
    APPENDIX_A,
    [2.2, 2.7, 3.7, 4.7, 5.5, 5.8, 6.2, 5.9, 5, 3.9, 2.6, 1.9],
  ),
  inches('oakland', 'Oakland', APPENDIX_A, [1.5, 1.5, 2.8, 3.9, 5.1, 5.3, 6, 5.5, 4.8, 3.1, 1.4, 0.9]),
  inches('palm-desert', 'Palm Desert', APPENDIX_A, [2.5, 3.4, 5.3, 6.9, 8.7, 9.6, 9.6, 8.7, 6.9, 5, 3, 2.2]),
  inches('sacramento', 'Sacramento', APPENDIX_A, [1, 1.8, 3.2, 4.7, 6.4, 7.7, 8.4, 7.2, 5.4, 3.7, 1.7, 0.9]),
  inches('san-diego', 'San Diego', APPENDIX_A, [2.1, 2.4, 3.4, 4.6, 5.1, 5.3, 5.7, 5.6, 4.3, 3.6, 2.4, 2]),
  inches(
    'san-francisco',
    'San Francisco',
    APPENDIX_A,
    [1.5, 1.3, 2.4, 3, 3.7, 4.6, 4.9, 4.8, 4.1, 2.8, 1.3, 0.7],
  ),
  inches('san-jose', 'San Jose', APPENDIX_A, [1.5, 1.8, 3.1, 4.1, 5.5, 5.8, 6.5, 5.9, 5.2, 3.3, 1.8, 1]),
  inches(
    'santa-barbara',
    'Santa Barbara',
    APPENDIX_A,
    [2, 2.5, 3.2, 3.8, 4.6, 5.1, 5.5, 4.5, 3.4, 2.4, 1.8, 1.8],
  ),
  inches('santa-rosa', 'Santa Rosa', APPENDIX_A, [1.2, 1.7, 2.8, 3.7, 5, 6, 6.1, 5.9, 4.5, 2.9, 1.5, 0.7]),
  inches('vacaville', 'Vacaville', VACAVILLE, [0.7, 1.4, 3.2, 5.2, 6.3, 7.6, 8.2, 7.2, 5.5, 4.3, 1.6, 1.1]),
];

/** The table used where a plan names no place: the only whole year read from a published source, a warm-summer inland place. */
export const ASSUMED_CLIMATE_KEY = 'vacaville';

const plain = (text: string): string =>
  text
    .trim()
    .toLowerCase()
    .replace(/[^a-z]+/g, '-');

/** The table of a place by key or name, or undefined. "Fresno", "fresno " and "FRESNO, California" find the same. */
export function climateTableFor(place: string): ClimateTable | undefined {
  const wanted = plain(place);
  const beforeComma = plain(place.split(',')[0] ?? '');
  return CLIMATE_TABLES.find((table) => table.key === wanted || table.key === beforeComma);
}
