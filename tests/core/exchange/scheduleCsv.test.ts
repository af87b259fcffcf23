import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import Papa from 'papaparse';
import { expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { readGeoJson, scheduleCsv } from '../../../src/core/exchange';

it('the calendar opens as a table: twelve months a zone, and the starts of a week add up to its minutes', () => {
  const path = fileURLToPath(new URL('../../reference/beds/01-rect10x15ft.geojson', import.meta.url));
  const read = readGeoJson(readFileSync(path, 'utf8'), { fileName: '01' });
  if (!read.ok) throw new Error('the bed does not read');
  const design = designPlan(read.value, typicalCatalog, { quality: 'finished' });
  const table = Papa.parse<Record<string, string>>(scheduleCsv(design).replace(/^\ufeff/, ''), {
    header: true,
    skipEmptyLines: true,
  });
  expect(table.errors).toEqual([]);
  expect(table.data.length).toBe(12 * design.supply.zones.length);
  expect(table.data.map((row) => row.month)).toEqual([
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
  ]);
  for (const row of table.data) {
    expect(Number(row.cycles) * Number(row['minutes a cycle'])).toBe(Number(row['minutes a watering day']));
    const starts = row.starts === '' ? [] : (row.starts ?? '').split('; ');
    expect(starts.length).toBe(Number(row.cycles) * Number(row['days a week']));
    for (const start of starts)
      expect(start).toMatch(/^(Sun|Mon|Tues|Wednes|Thurs|Fri|Satur)day ([01]\d|2[0-3]):[0-5]\d$/);
  }
});
