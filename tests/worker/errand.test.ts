import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../src/core/catalog';
import { designPlan } from '../../src/core/design';
import { readPlan } from '../../src/core/plan';
import { FONT_FILES, type FontBytes } from '../../src/render';
import { doErrand } from '../../src/worker/errand';

const near = (path: string): URL => new URL(`../../${path}`, import.meta.url);
const demonstration = readFileSync(near('assets/demonstration.rillsheet.json'), 'utf8');

describe('work handed off by the desk', () => {
  const plan = readPlan(demonstration, 'demonstration.rillsheet.json');
  if (!plan.ok) throw new Error('the demonstration reads');
  const { beds } = plan.value;
  const [strip] = Object.values(beds).filter((bed) => bed.name === 'House strip');
  const small = { ...plan.value, beds: strip ? { [strip.id]: strip } : {} };
  // As it crosses to a worker: a copy, with nothing in it that cannot be copied.
  const design = structuredClone(designPlan(small, typicalCatalog, { quality: 'preview' }));

  it('draws the sheet, prints it, and writes every text output, from a copied design', () => {
    const sheet = doErrand({ kind: 'sheet', given: { design } });
    expect(sheet.kind === 'done' && sheet.result.pages.length).toBeGreaterThan(0);
    const fonts = Object.fromEntries(
      Object.entries(FONT_FILES).map(([font, file]) => [
        font,
        new Uint8Array(readFileSync(near(`assets/fonts/${file}`))),
      ]),
    ) as unknown as FontBytes;
    const pdf = doErrand({ kind: 'pdf', given: { design, of: 'sheet', fonts } });
    const head = pdf.kind === 'done' ? new TextDecoder('latin1').decode(pdf.result.slice(0, 5)) : '';
    expect(head).toBe('%PDF-');
    for (const ending of ['geojson', 'dxf', 'takeoff.csv', 'cuts.csv', 'design.json'] as const) {
      const text = doErrand({ kind: 'text', given: { design, ending } });
      expect(text.kind === 'done' && text.result.length).toBeGreaterThan(100);
    }
  });

  it('reads back the drawing it wrote, and answers with what was found in a broken file', () => {
    const dxf = doErrand({ kind: 'text', given: { design, ending: 'dxf' } });
    const text = dxf.kind === 'done' ? dxf.result : '';
    const read = doErrand({ kind: 'drawing', given: { text, fileName: 'site.dxf', unit: 'm' } });
    expect(read.kind === 'done' && read.result.ok).toBe(true);
    const broken = doErrand({ kind: 'geojson', given: { text: '{"type":', fileName: 'cut.geojson' } });
    expect(broken.kind === 'done' && !broken.result.ok && broken.result.problems.length).toBeGreaterThan(0);
  });

  it('turns a bug into an answer', () => {
    const answer = doErrand({ kind: 'sheet', given: { design: { ...design, beds: null as never } } });
    expect(answer.kind).toBe('failed');
  });
});
