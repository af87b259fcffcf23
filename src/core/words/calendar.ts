import { MONTHS } from './soilwater';

/** Names the watering calendar uses, in tables and files. */
export const calendarWords = {
  months: MONTHS,
  days: ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'],
  columns: [
    'zone',
    'beds',
    'month',
    'need in the month',
    'application rate as laid',
    'minutes a watering day',
    'days a week',
    'cycles',
    'minutes a cycle',
    'soak, minutes',
    'starts',
    'rests on, not published',
  ],
} as const;
