import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { DEFAULTS, typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { type DrawingList, drawCalculations, drawSheetSet } from '../../../src/core/drawing';
import { designJson, readGeoJson, scheduleCsv, takeoffCsv } from '../../../src/core/exchange';
import { readPlan } from '../../../src/core/plan';
import * as soilwater from '../../../src/core/soilwater';
import type { Source } from '../../../src/core/units';
import { saySource, starOf } from '../../../src/core/words';

const root = new URL('../../../', import.meta.url);

/** Every source anywhere in some data, once. */
function sourcesIn(data: unknown, found = new Map<string, Source>(), seen = new Set<unknown>()): Source[] {
  if (data === null || typeof data !== 'object' || seen.has(data)) return [...found.values()];
  seen.add(data);
  const { text, standing } = data as Partial<Source>;
  if (typeof text === 'string' && typeof standing === 'string')
    found.set(`${standing}|${text}`, { text, standing });
  for (const value of Object.values(data)) sourcesIn(value, found, seen);
  return [...found.values()];
}

const unpublished = (sources: readonly Source[]) =>
  sources.filter(({ standing }) => standing !== 'published' && standing !== 'user');

/** Words of every page, each page's texts in the order drawn. */
const wordsOf = (list: DrawingList): string =>
  list.pages
    .flatMap((page) => page.items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])))
    .join('\n');

const plan = readPlan(readFileSync(new URL('assets/demonstration.rillsheet.json', root), 'utf8'), 'demo');
if (!plan.ok) throw new Error('the demonstration cannot be read');
const design = designPlan(plan.value, typicalCatalog, { quality: 'finished' });
const bed = readGeoJson(readFileSync(new URL('tests/reference/beds/01-rect10x15ft.geojson', root), 'utf8'), {
  fileName: '01',
});
if (!bed.ok) throw new Error('the bed cannot be read');
const bedPlan = bed.value;

test('every default, part, soil, plant and climate figure not published carries its standing in the words printed of it', () => {
  const all = [...sourcesIn(DEFAULTS), ...sourcesIn(typicalCatalog), ...sourcesIn({ ...soilwater })];
  const weak = unpublished(all);
  // The table of defaults, the catalogue and the soil room each hold some of every kind.
  for (const standing of ['from memory', 'common practice', 'ours', 'typical'])
    expect(
      weak.some((source) => source.standing === standing),
      standing,
    ).toBe(true);
  for (const source of weak) {
    expect(saySource(source), source.text).toContain(source.standing);
    expect(starOf(source)).toBe('*');
  }
  for (const source of all.filter(({ standing }) => standing === 'published')) {
    expect(saySource(source)).toBe(source.text);
    expect(starOf(source)).toBe('');
  }
});

test('sources that are told by their words alone, as inputs of a figure are, hold their standing in those words', () => {
  for (const source of unpublished(sourcesIn({ ...soilwater })))
    expect(source.text).toContain(source.standing);
});

test('nothing that prints takes the words of a source without its standing', () => {
  const folders = ['src/app', 'src/core/drawing', 'src/core/exchange', 'src/core/words', 'src/cli'];
  const files = folders.flatMap((folder) =>
    readdirSync(new URL(folder, root), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => `${folder}/${name}`),
  );
  expect(files.length).toBeGreaterThan(150);
  const bare = files.filter((file) => /source\??\.text/.test(readFileSync(new URL(file, root), 'utf8')));
  expect(bare).toEqual([]);
});

test('the calculations print the standing of every traced figure, finding and part that is not published', () => {
  const printed = wordsOf(drawCalculations(design)).replace(/\s+/g, ' ');
  const shown = unpublished([
    ...sourcesIn(design.traces),
    ...sourcesIn(design.schedule.traces),
    ...sourcesIn(design.findings.filter(({ severity }) => severity !== 'note')),
    ...design.beds.map(({ choice }) => choice.dripline.source),
    ...design.supply.zones.map(({ assembly }) => assembly.source),
  ]);
  expect(shown.length).toBeGreaterThan(8);
  for (const source of shown) expect(printed).toContain(saySource(source));
});

test('the sheet stars what it prints of depths, staples, tubing, assemblies and hours, and says what a star means', () => {
  const printed = wordsOf(
    drawSheetSet(designPlan(bedPlan, typicalCatalog, { quality: 'preview' }), {}),
  ).replace(/\s+/g, ' ');
  const meaning = '* Typical, common practice, from memory or our own choice';
  expect(printed).toContain(meaning);
  expect(printed).toMatch(/headers [\d.]+ in\*, main [\d.]+ in\*, sleeves [\d.]+ in\*/);
  expect(printed).toMatch(/Staples in loam: [^*]*double on slopes\.\*/);
  expect(printed).toMatch(/Emitters 0\.4 gph, 12 in apart, holes up\.\*/);
  expect(printed).toMatch(/regulator 25(\.0)? psi, box[^*\n]*\*|regulator 25(\.0)? psi[^*]*\*/);
  // Published, so without a star: three inches of mulch, 23 CCR 492.6.
  expect(printed).toMatch(/Mulch 3 in over all tubing, after the test and not before\.(?!\*)/);
  const own = designPlan(
    {
      ...bedPlan,
      settings: { ...bedPlan.settings, headerDepthM: 0.3, mainDepthM: 0.45, sleeveDepthM: 0.6 },
    },
    typicalCatalog,
    { quality: 'preview' },
  );
  // The designer's own depths are the designer's to answer for.
  expect(wordsOf(drawSheetSet(own, {})).replace(/\s+/g, ' ')).toMatch(
    /headers [\d.]+ in, main [\d.]+ in, sleeves/,
  );
});

test('the tables for other programs and the design as data carry it too', () => {
  expect(takeoffCsv(design)).toContain(saySource(typicalCatalog.driplines[0]!.source));
  const intake = design.schedule.zones[0]!.traces.find(({ code }) => code === 'soilwater.runoff-limit')!;
  expect(saySource(intake.source)).toMatch(/from memory/);
  expect(scheduleCsv(design)).toContain(saySource(intake.source));
  const weak = unpublished(sourcesIn(design.findings));
  const json = designJson(design);
  const text = typeof json === 'string' ? json : JSON.stringify(json);
  for (const source of weak) expect(text).toContain(JSON.stringify(saySource(source)).slice(1, -1));
});
