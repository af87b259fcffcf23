import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan, withForesight } from '../../../src/core/design';
import { drawSheetSet, foresightTables } from '../../../src/core/drawing';
import { readPlan } from '../../../src/core/plan';
import { printer } from '../../../src/core/units';

const file = 'demonstration.rillsheet.json';
const read = readPlan(readFileSync(join(import.meta.dirname, '../../../assets', file), 'utf8'), file);
if (!read.ok) throw new Error('the demonstration plan does not read');
const plain = designPlan(read.value, typicalCatalog, { quality: 'preview' });
const design = withForesight(plain);
const print = printer('us');

describe('what is foreseen, in print', () => {
  const tables = foresightTables(design, print);

  it('has a row for every zone on the pressure found, each with what to do under and over it', () => {
    const found = tables.find(({ table }) => table.key === 'found-pressure')!.table;
    expect(found.rows.map(([zone]) => zone)).toEqual(design.supply.zones.map(({ number }) => `V${number}`));
    for (const row of found.rows) expect(row[3]).toMatch(/^under [\d.]+ psi, over 80\.0 psi$|^call first$/);
  });

  it('says of every zone how many of 100 builds come out and names one error', () => {
    const { table } = tables.find((one) => one.table.key === 'build-tolerance')!;
    for (const row of table.rows) {
      expect(row[1]).toMatch(/^\d+ of 100$/);
      expect(row[4]).toMatch(/rows laid longer|filter left|mains lower|emitters as made/);
    }
  });

  it('lists for every zone what two gauges show with nothing wrong and with the valve shut', () => {
    const faults = tables.filter(({ table }) => table.key.startsWith('faults-'));
    expect(faults.length).toBe(design.supply.zones.length);
    for (const { table } of faults) {
      expect(table.columns.length).toBe(3);
      expect(table.rows.map(([name]) => name)).toEqual(
        expect.arrayContaining(['nothing wrong', 'valve shut']),
      );
    }
  });

  it('stands on the commissioning page once it is worked out, and nowhere before', () => {
    const keysOf = (made: typeof design): string =>
      JSON.stringify(drawSheetSet(made, { include: ['commissioning'] }).pages.map(({ items }) => items));
    expect(keysOf(design)).toContain('You measured the pressure');
    expect(keysOf(plain)).not.toContain('You measured the pressure');
  });
});
