import type { PlanPoint } from '../../core/geometry';
import { type Outcome, type Printer, readLength, readLengthAndDirection } from '../../core/units';

/** What a person wrote on the rule, as it was read. */
export type Entry =
  | { readonly kind: 'length'; readonly lengthM: number }
  | { readonly kind: 'way'; readonly lengthM: number; readonly angleRad: number }
  | { readonly kind: 'size'; readonly eastM: number; readonly northM: number }
  | { readonly kind: 'place'; readonly at: PlanPoint };

const SIZE = /^(.*?\S)\s*(?:x|×|by)\s*(\S.*)$/i;
const PLACE = /^\s*([ew])\s*(.+?)\s*[,;]?\s+([ns])\s*(.+)$/i;

const settled = <T>(value: T): Outcome<T> => ({ ok: true, value, problems: [] });

/**
 * Reads what is written on the rule: a length (`12'6`, `3.81 m`), a length and a direction (`12'6 at 30`, `12'6 N 30 E`),
 * a size (`12'6 x 20'`), or a place as the rule shows it (`E 35' S 4'`).
 */
export function readEntry(text: string, system: Printer['system']): Outcome<Entry> {
  const typed = { system };
  const tidy = text.replace(/@/g, ' at ').trim();
  const place = PLACE.exec(tidy);
  if (place) {
    const [, across = '', east = '', along = '', north = ''] = place;
    const eastM = readLength(east, typed);
    if (!eastM.ok) return eastM;
    const northM = readLength(north, typed);
    if (!northM.ok) return northM;
    const x = /e/i.test(across) ? eastM.value : -eastM.value;
    const y = /n/i.test(along) ? northM.value : -northM.value;
    return settled({ kind: 'place', at: { x, y } });
  }
  const size = SIZE.exec(tidy);
  if (size) {
    const eastM = readLength(size[1] ?? '', typed);
    if (!eastM.ok) return eastM;
    const northM = readLength(size[2] ?? '', typed);
    if (!northM.ok) return northM;
    return settled({ kind: 'size', eastM: eastM.value, northM: northM.value });
  }
  const length = readLength(tidy, typed);
  if (length.ok) return settled({ kind: 'length', lengthM: length.value });
  const way = readLengthAndDirection(tidy, typed);
  return way.ok ? settled({ kind: 'way', ...way.value }) : length;
}

/** A place as the rule shows it and as it may be typed: how far east and north of the plan's datum. */
export function sayPlace(at: PlanPoint, print: Printer): string {
  const across = `${at.x < 0 ? 'W' : 'E'} ${print.length(Math.abs(at.x))}`;
  const along = `${at.y < 0 ? 'S' : 'N'} ${print.length(Math.abs(at.y))}`;
  return `${across}  ${along}`;
}

/** How an entry was read, in the plan's units and in the other system. */
export function sayEntry(entry: Entry, print: Printer, other: Printer): string {
  if (entry.kind === 'place') return sayPlace(entry.at, print);
  if (entry.kind === 'size') {
    return `${print.length(entry.eastM)} east by ${print.length(entry.northM)} north (${other.length(entry.eastM)} by ${other.length(entry.northM)})`;
  }
  const length = `${print.length(entry.lengthM)} (${other.length(entry.lengthM)})`;
  if (entry.kind === 'length') return length;
  const degrees = Math.round((entry.angleRad * 180) / Math.PI);
  return `${length}, ${degrees}° from east`;
}
