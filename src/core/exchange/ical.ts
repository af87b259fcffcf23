import type { Schedule, Start } from '../soilwater';

/** What a calendar file needs beyond the schedule. Time and names are given: this room has no clock. */
export interface IcalOptions {
  /** Year the calendar is written for, 1601 or later. */
  readonly year: number;
  /** The moment of writing, UTC, in basic form: "20260514T064000Z". The same stamp gives the same file. */
  readonly stamp: string;
  /** Distinguishes one plan's events from another's. */
  readonly planId: string;
  readonly zoneNames?: Readonly<Record<string, string>>;
}

/** Octets a line may hold before its break. Source: RFC 5545, 3.1. */
const LINE_OCTETS = 75;
const DAY_CODES = ['SU', 'MO', 'TU', 'WE', 'TH', 'FR', 'SA'] as const;
const MONTH_OFFSETS = [0, 3, 2, 5, 0, 3, 5, 1, 4, 6, 2, 4] as const;
const MONTH_LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

const two = (value: number): string => String(value).padStart(2, '0');

/** Day of the week, 0 Sunday, of a Gregorian date. Source: Sakamoto's rule, exact from 1583 on. */
export function weekdayOf(year: number, month: number, day: number): number {
  const shifted = month < 3 ? year - 1 : year;
  const leaps = Math.floor(shifted / 4) - Math.floor(shifted / 100) + Math.floor(shifted / 400);
  return (shifted + leaps + (MONTH_OFFSETS[month - 1] ?? 0) + day) % 7;
}

/** Days of a month, leap years counted. */
export function daysInMonth(year: number, month: number): number {
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return month === 2 && isLeap ? 29 : (MONTH_LENGTHS[month - 1] ?? 30);
}

/** Text as a calendar holds it: backslash, semicolon, comma and line breaks guarded. Source: RFC 5545, 3.3.11. */
const guarded = (text: string): string =>
  text
    .replace(/\\/g, '\\\\')
    .replace(/;/g, '\\;')
    .replace(/,/g, '\\,')
    .replace(/\r\n|\r|\n/g, '\\n');

const octetsOf = (character: string): number => {
  const code = character.codePointAt(0) ?? 0;
  return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
};

/** A content line broken into lines of at most 75 octets, never inside a character. */
function folded(line: string): string {
  let result = '';
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character);
    if (octets + size > LINE_OCTETS) {
      result += '\r\n ';
      octets = 1;
    }
    result += character;
    octets += size;
  }
  return result;
}

/** One start as an event that comes back every week to the end of its month, in the site's own time. */
function eventLines(start: Start, options: IcalOptions): readonly string[] {
  const weekday = Math.floor(start.startMin / 1440) % 7;
  const minuteOfDay = start.startMin % 1440;
  const first = 1 + ((weekday - weekdayOf(options.year, start.month, 1) + 7) % 7);
  const month = `${String(options.year).padStart(4, '0')}${two(start.month)}`;
  const time = `T${two(Math.floor(minuteOfDay / 60))}${two(minuteOfDay % 60)}00`;
  const last = daysInMonth(options.year, start.month);
  const name = options.zoneNames?.[start.zoneId] ?? start.zoneId;
  const uid = `${options.planId}-${options.year}-${start.month}-${start.zoneId}-${start.startMin}@rillsheet`;
  return [
    'BEGIN:VEVENT',
    `UID:${guarded(uid)}`,
    `DTSTAMP:${options.stamp}`,
    `DTSTART:${month}${two(first)}${time}`,
    `DURATION:PT${start.minutes}M`,
    `RRULE:FREQ=WEEKLY;UNTIL=${month}${two(last)}T235959;BYDAY=${DAY_CODES[weekday] ?? 'SU'}`,
    `SUMMARY:${guarded(name)}`,
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ];
}

/**
 * The watering calendar as iCalendar text: every start of every month's week, repeated to the end of the month, in floating
 * local time (no zone), with CRLF and folded lines. Same in, same out. Source: RFC 5545.
 */
export function writeIcal(schedule: Pick<Schedule, 'timetable'>, options: IcalOptions): string {
  const starts = [...schedule.timetable].sort(
    (a, b) =>
      a.month - b.month ||
      a.startMin - b.startMin ||
      (a.zoneId < b.zoneId ? -1 : a.zoneId > b.zoneId ? 1 : 0),
  );
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Rillsheet//Watering calendar//EN',
    'CALSCALE:GREGORIAN',
    ...starts.flatMap((start) => eventLines(start, options)),
    'END:VCALENDAR',
  ];
  return `${lines.map(folded).join('\r\n')}\r\n`;
}
