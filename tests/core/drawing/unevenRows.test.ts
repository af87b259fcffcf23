import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { type DrawingItem, drawSheetSet } from '../../../src/core/drawing';
import { readGeoJson } from '../../../src/core/exchange';

/** A winding ribbon, its width swelling from 1.8 to 2.05 m, rows 18 in apart at most. */
function ribbon(swellM: number): string {
  const shares = Array.from({ length: 57 }, (_, i) => i / 56);
  const side = (way: 1 | -1) =>
    shares.map((share) => [
      14 * share,
      Math.sin(2 * Math.PI * share) + (way * (1.8 + swellM * Math.sin(3 * share))) / 2,
    ]);
  const ring = [...side(-1), ...side(1).reverse()];
  return JSON.stringify({
    type: 'FeatureCollection',
    rillsheet: { frame: 'local-metres' },
    features: [
      {
        type: 'Feature',
        id: 'river',
        properties: { kind: 'bed', name: 'River', rowSpacingM: 0.4572 },
        geometry: { type: 'Polygon', coordinates: [[...ring, ring[0]]] },
      },
    ],
  });
}

function sheetOf(swellM: number) {
  const plan = readGeoJson(ribbon(swellM), { fileName: 'river.geojson' });
  if (!plan.ok) throw new Error('the ribbon cannot be read');
  const design = designPlan(plan.value, typicalCatalog, { quality: 'finished' });
  const flat = (items: readonly DrawingItem[]): readonly DrawingItem[] =>
    items.flatMap((item) => (item.kind === 'clip' ? flat(item.items) : [item]));
  const pages = drawSheetSet(design).pages.map((page) =>
    flat(page.items).flatMap((item) => (item.kind === 'text' ? [item.text] : [])),
  );
  return { bed: design.beds[0]!, pages };
}

describe('the sheet of a ribbon whose rows share out its width', () => {
  const { bed, pages } = sheetOf(0.25);

  it('tells how near rows come and names no jig, for none lays them', () => {
    expect(bed.layout.layout).toBe('contour');
    expect(bed.layout.verified.separationM).toBeLessThan(0.95 * bed.layout.rowSpacingM);
    const [plan] = pages;
    // 0.385 m between the nearest rows, by the verifier: 15.25 in to the quarter.
    expect(plan!.filter((text) => /^Rows .* in apart and more$/.test(text))).toHaveLength(1);
    expect(plan!.filter((text) => text.startsWith('Jig:'))).toEqual([]);
    expect(plan).toContain('No jig: lay them by the stations');
  });

  it('says by stations where each row lies', () => {
    expect(pages.some((texts) => texts.some((text) => text.startsWith('Stations')))).toBe(true);
  });
});
