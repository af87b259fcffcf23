import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan, wettedGround } from '../../../src/core/design';
import { type DrawingItem, drawCalculations, drawPlots } from '../../../src/core/drawing';
import { readGeoJson } from '../../../src/core/exchange';

const name = '01-rect10x15ft';
const text = readFileSync(new URL(`../../reference/beds/${name}.geojson`, import.meta.url), 'utf8');
const read = readGeoJson(text, { fileName: name });
if (!read.ok) throw new Error('the bed cannot be read');
const design = designPlan(read.value, typicalCatalog, { quality: 'preview' });
const bed = design.beds[0]!;
const ground = wettedGround(bed)!;

const WIDTH_MM = 120;
const [page] = drawPlots(design, WIDTH_MM, 'plot-wetted-');
const paths = page!.items.filter((item) => item.kind === 'path');
/** Starts of the subpaths of an item. */
const startsOf = (item: DrawingItem) =>
  item.kind === 'path'
    ? item.steps.flatMap((step) => (step[0] === 'M' ? [[step[1], step[2]] as const] : []))
    : [];

describe('the wetted ground drawn on the plan of a bed', () => {
  // The bed of 15 ft and half a wetted circle beyond it on both sides fills the width.
  const mmPerM = WIDTH_MM / (15 * 0.3048 + bed.choice.wettedDiameterM.high);

  it('is a circle round every emitter, as wide as each model says, at the scale of the bed', () => {
    const widths = paths
      .filter((item) => item.kind === 'path' && item.stroke?.cap === 'round')
      .map((item) => (item.kind === 'path' ? item.stroke!.widthMm : 0));
    for (const diameterM of [bed.choice.wettedDiameterM.low, bed.choice.wettedDiameterM.high])
      expect(widths.some((width) => Math.abs(width - diameterM * mmPerM) < 1e-6)).toBe(true);
    for (const item of paths.filter((one) => one.kind === 'path' && one.stroke?.cap === 'round'))
      expect(startsOf(item)).toHaveLength(ground.emitters.length);
    const [first, second] = startsOf(paths[0]!);
    const [a, b] = ground.emitters;
    const apartMm = Math.hypot(first![0] - second![0], first![1] - second![1]);
    expect(apartMm).toBeCloseTo(Math.hypot(a!.x - b!.x, a!.y - b!.y) * mmPerM, 6);
  });

  it('has one stroke for every pair of neighbours that may stay dry at the worst shift, and says how many meet', () => {
    const dry = paths.find((item) => item.kind === 'path' && item.stroke?.ink === 'check');
    expect(ground.narrow.gaps.length).toBeGreaterThan(0);
    expect(startsOf(dry!)).toHaveLength(ground.narrow.gaps.length);
    const said = page!.items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])).join(' ');
    const { along, acrossWorstPhase: across } = ground.narrow;
    expect(said).toContain(`Along the rows ${along.overlapCount} of ${along.pairCount} pairs meet`);
    expect(said).toContain(`${across.overlapCount} of ${across.pairCount} pairs by the drier`);
    expect(said).toContain('from memory');
  });

  it('stands in the calculations under its title', () => {
    const printed = drawCalculations(design).pages.flatMap(({ items }) =>
      items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])),
    );
    expect(printed.some((line) => line.startsWith('Wetted ground on the plan'))).toBe(true);
  });
});
