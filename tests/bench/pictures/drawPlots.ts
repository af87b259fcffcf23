import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { drawPlots } from '../../../src/core/drawing';
import { readPlan } from '../../../src/core/plan';
import { LOOKS, type LookName, renderSvg } from '../../../src/render';

/** Widths a plot is drawn at: beside the sketch, and in the column of a standing page, mm. */
const WIDTHS_MM = { narrow: 50, wide: 175 } as const;
const LOOK_NAMES: readonly LookName[] = ['light', 'dark', 'contrast', 'print'];
const PIXELS_PER_MM = 6;

/** A colour as a grey printer lays it: luma by ITU-R BT.601. */
const grey = (colour: string): string => {
  const [r, g, b] = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
  const luma = Math.round(0.299 * r! + 0.587 * g! + 0.114 * b!);
  return `#${luma.toString(16).padStart(2, '0').repeat(3)}`;
};

/** Draws every plot of a plan in every look and in grey print into a folder, as PNG, to be looked at. Gives each path as it is done. */
export function* drawPlotsOf(planFile: string, fontFolder: string, outFolder: string): Generator<string> {
  const read = readPlan(readFileSync(planFile, 'utf8'), planFile);
  if (!read.ok) throw new Error(`${planFile} cannot be read`);
  const design = designPlan(read.value, typicalCatalog, { quality: 'finished' });
  mkdirSync(outFolder, { recursive: true });
  const greyPrint = Object.fromEntries(
    Object.entries(LOOKS.print).map(([ink, colour]) => [ink, grey(colour)]),
  ) as typeof LOOKS.print;
  const looks = [...LOOK_NAMES.map((name) => [name, LOOKS[name]] as const), ['grey', greyPrint] as const];
  for (const [width, widthMm] of Object.entries(WIDTHS_MM))
    for (const page of drawPlots(design, widthMm))
      for (const [name, look] of looks) {
        const png = join(outFolder, `${page.key}-${width}-${name}.png`);
        const svg = renderSvg(page, look);
        const picture = new Resvg(svg, {
          fitTo: { mode: 'width', value: widthMm * PIXELS_PER_MM },
          font: { loadSystemFonts: false, fontDirs: [fontFolder] },
        });
        writeFileSync(png, picture.render().asPng());
        yield png;
      }
}
