import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { typicalCatalog } from '../../src/core/catalog';
import { type Design, designPlan } from '../../src/core/design';
import { drawCalculations, drawSheetSet, type Font, measureOverlaps } from '../../src/core/drawing';
import { readGeoJson } from '../../src/core/exchange';
import { readPlan } from '../../src/core/plan';
import { FONT_FILES, type FontBytes, renderPdf } from '../../src/render';
import { unbalanced } from '../core/takeoff/balance';
import { readPages, unclearLettering } from '../render/readLettering';

type Row = Readonly<Record<string, string | number>>;

interface Options {
  readonly root: string;
}

/** Lettering of a PDF that a second library finds unclear: on lettering, on a line, off its page. */
async function unclearIn(bytes: Uint8Array): Promise<number> {
  const pages = await readPages(bytes);
  return pages.reduce((sum, page) => sum + unclearLettering(page).length, 0);
}

async function sheetRow(name: string, design: Design, fonts: FontBytes): Promise<Row> {
  const started = performance.now();
  const list = drawSheetSet(design);
  const drawn = performance.now();
  const bytes = renderPdf(list, fonts);
  const written = performance.now();
  const calculations = drawCalculations(design);
  const pages = [...list.pages, ...calculations.pages];
  const reports = pages.map(measureOverlaps);
  const sum = (key: 'textOnText' | 'textOnLine' | 'textOffPage'): number =>
    reports.reduce((total, report) => total + report[key].length, 0);
  return {
    plan: name,
    pages: list.pages.length,
    scale: list.pages[0]?.scaleDenominator ?? '',
    'text on text': sum('textOnText'),
    'text on line': sum('textOnLine'),
    'off page': sum('textOffPage'),
    'unclear as read back': (await unclearIn(bytes)) + (await unclearIn(renderPdf(calculations, fonts))),
    'takeoff out of balance': unbalanced(design).length,
    'draw ms': Math.round(drawn - started),
    'pdf ms': Math.round(written - drawn),
    kB: Math.round(bytes.length / 1000),
  };
}

/** Draws the set and calculations of the demonstration and of every bed on file: overlaps by our own measure and as read back from the PDF and faults of the takeoff (0 wanted), time and size. */
export async function benchSheets({ root }: Options): Promise<{ title: string; rows: readonly Row[] }> {
  const fonts: FontBytes = Object.fromEntries(
    (Object.keys(FONT_FILES) as Font[]).map((font) => [
      font,
      new Uint8Array(readFileSync(join(root, 'assets/fonts', FONT_FILES[font]))),
    ]),
  );
  const rows: Row[] = [];
  const demonstration = readPlan(
    readFileSync(join(root, 'assets/demonstration.rillsheet.json'), 'utf8'),
    'demonstration.rillsheet.json',
  );
  if (demonstration.ok) {
    const design = designPlan(demonstration.value, typicalCatalog, { quality: 'finished' });
    rows.push(
      await sheetRow('demonstration, first', design, fonts),
      await sheetRow('demonstration, again', design, fonts),
    );
  }
  const folder = join(root, 'tests/reference/beds');
  for (const file of readdirSync(folder)
    .filter((name) => name.endsWith('.geojson'))
    .sort()) {
    const read = readGeoJson(readFileSync(join(folder, file), 'utf8'), { fileName: file });
    if (!read.ok) continue;
    rows.push(await sheetRow(file, designPlan(read.value, typicalCatalog, { quality: 'preview' }), fonts));
  }
  return { title: 'Sheets: lettering, time and size', rows };
}
