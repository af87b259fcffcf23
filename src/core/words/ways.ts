import type { WayFigures } from '../design';
import type { Printer } from '../units';

/** One line of the table that weighs two ways. */
export interface WayLine {
  readonly key: keyof WayFigures;
  readonly name: string;
  readonly first: string;
  readonly second: string;
  /** Second less first, with its sign; empty where either is missing. */
  readonly difference: string;
}

const NAMES: Readonly<Record<keyof WayFigures, string>> = {
  tubingM: 'Tubing',
  fittings: 'Fittings in tubing',
  labourHours: 'Hours of work',
  cost: 'Cost of parts',
  uniformityRatio: 'Uniformity, worst zone',
  waterYearM3: 'Water a year',
  leastHeadM: 'Least pressure',
  valves: 'Valves',
  stops: 'Findings that stop',
};

function printed(key: keyof WayFigures, value: number | null, print: Printer): string {
  if (value === null) return '';
  switch (key) {
    case 'tubingM':
      return print.tubing(value);
    case 'uniformityRatio':
      return print.percent(value);
    case 'waterYearM3':
      return print.volume(value);
    case 'leastHeadM':
      return print.pressure(value);
    case 'labourHours':
      return `${value.toFixed(1)} h`;
    case 'cost':
      return value.toFixed(2);
    default:
      return String(value);
  }
}

/** The figures of two ways as lines of a table, in the chosen units. */
export function wayLines(first: WayFigures, second: WayFigures, print: Printer): readonly WayLine[] {
  return (Object.keys(NAMES) as (keyof WayFigures)[]).map((key) => {
    const [a, b] = [first[key], second[key]];
    const difference = a === null || b === null ? '' : printed(key, Math.abs(b - a), print);
    const isSame = difference === '' || Number.parseFloat(difference) === 0;
    const sign = a === null || b === null || isSame ? '' : b > a ? '+' : '-';
    return {
      key,
      name: NAMES[key],
      first: printed(key, a, print) || waysWords.missing,
      second: printed(key, b, print) || waysWords.missing,
      difference: sign === '' ? '' : `${sign}${difference}`,
    };
  });
}

/** Everything the comparison of two ways prints beside its figures. */
export const waysWords = {
  title: 'Two ways compared',
  missing: 'not known',
  figure: 'figure',
  difference: 'difference',
  columns: ['figure', 'unit', 'first', 'second'],
  marked: (tolerance: string) =>
    `Tubing under a broad band lies further than ${tolerance} from all tubing of the other way. Same scale on both sides.`,
  changed: (onlyHere: number, moved: number, length: string) =>
    `${onlyHere} ${onlyHere === 1 ? 'run' : 'runs'} only here, ${moved} moved; ${length} of tubing differs.`,
  regrouped: (beds: string) => `On a valve with other beds than the other way: ${beds}.`,
  sameGroups: 'Beds share valves as they do the other way.',
} as const;
