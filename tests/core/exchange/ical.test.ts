import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { daysInMonth, weekdayOf, writeIcal } from '../../../src/core/exchange';

const timetable = [
  { zoneId: 'zone-1', month: 7, startMin: 2 * 1440 + 245, minutes: 44 },
  { zoneId: 'zone-2', month: 2, startMin: 6 * 1440 + 1380, minutes: 7 },
];
const options = {
  year: 2028,
  stamp: '20280101T000000Z',
  planId: 'plan',
  zoneNames: {
    'zone-1':
      'Zone 1; roses, and a name long enough that the line has to be folded: Größe und Länge über alles',
  },
};

describe('the watering calendar as iCalendar', () => {
  // Days of the week from a printed calendar: 1 January 2000 a Saturday, 29 February 2028 a Tuesday, 25 November 2026 a Wednesday.
  it('knows the days of the week and leap years', () => {
    expect(weekdayOf(2000, 1, 1)).toBe(6);
    expect(weekdayOf(2028, 2, 29)).toBe(2);
    expect(weekdayOf(2026, 11, 25)).toBe(3);
    expect([daysInMonth(2028, 2), daysInMonth(2026, 2), daysInMonth(2000, 2), daysInMonth(1900, 2)]).toEqual([
      29, 28, 29, 28,
    ]);
  });

  it('is read by a calendar reader, each event on its day, at its minute, for its length, to the month’s end', () => {
    const calendar = new ICAL.Component(ICAL.parse(writeIcal({ timetable }, options)));
    const events = calendar.getAllSubcomponents('vevent').map((part) => new ICAL.Event(part));
    expect(events.length).toBe(2);
    const july = events[1];
    if (july === undefined) throw new Error('no event');
    expect(july.summary).toBe(options.zoneNames['zone-1']);
    // The first Tuesday of July 2028 is the 4th.
    expect(july.startDate.toString()).toBe('2028-07-04T04:05:00');
    expect(july.duration.toSeconds()).toBe(44 * 60);
    const dates: string[] = [];
    const iterator = july.iterator();
    for (let next = iterator.next(); next; next = iterator.next()) dates.push(next.toString().slice(0, 10));
    expect(dates).toEqual(['2028-07-04', '2028-07-11', '2028-07-18', '2028-07-25']);
  });

  it('folds every line to 75 octets, ends each with CRLF, and is the same twice', () => {
    const text = writeIcal({ timetable }, options);
    expect(text).toBe(writeIcal({ timetable: [...timetable].reverse() }, options));
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    for (const line of text.split('\r\n')) {
      expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
      expect(line).not.toMatch(/[\r\n]/);
    }
  });

  it('gives a calendar reader back every start of any timetable, on its weekday, at its minute, for its length', () => {
    const start = fc.record({
      zoneId: fc.constantFrom('zone-1', 'zone, two; \\ and "three"'),
      month: fc.integer({ min: 1, max: 12 }),
      startMin: fc.integer({ min: 0, max: 7 * 1440 - 1 }),
      minutes: fc.integer({ min: 1, max: 600 }),
    });
    const starts = fc.uniqueArray(start, {
      maxLength: 12,
      selector: ({ zoneId, month, startMin }) => `${zoneId} ${month} ${startMin}`,
    });
    fc.assert(
      fc.property(starts, fc.integer({ min: 2024, max: 2099 }), (entries, year) => {
        const text = writeIcal({ timetable: entries }, { ...options, year });
        const calendar = new ICAL.Component(ICAL.parse(text));
        expect(calendar.getFirstPropertyValue('version')).toBe('2.0');
        const events = calendar.getAllSubcomponents('vevent').map((part) => new ICAL.Event(part));
        const read = events.map((event) => {
          const { month, hour, minute } = event.startDate;
          // The reader counts Sunday as 1.
          const startMin = (event.startDate.dayOfWeek() - 1) * 1440 + hour * 60 + minute;
          return `${month} ${startMin} ${event.duration.toSeconds() / 60}`;
        });
        expect(read.sort()).toEqual(
          entries.map(({ month, startMin, minutes }) => `${month} ${startMin} ${minutes}`).sort(),
        );
        expect(new Set(events.map(({ uid }) => uid)).size).toBe(entries.length);
      }),
      { seed: 5 },
    );
  });
});
