import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { layoutBed } from '../../../src/core/layout';
import { type BedFile, readBedFiles } from '../bedFiles';
import { bedPicture } from './bedPicture';

/** Draws every bed with its finished route into a folder, as SVG and PNG, to be looked at as an installer would. */
export function drawBeds(bedFolder: string, outFolder: string, only = ''): string[] {
  return readBedFiles(bedFolder)
    .filter((bed) => bed.name.includes(only))
    .map((bed) => drawBed(bed, outFolder));
}

/** Draws one bed; gives the path of its PNG. */
export function drawBed(bed: BedFile, outFolder: string): string {
  mkdirSync(outFolder, { recursive: true });
  const svg = bedPicture(bed.input, layoutBed(bed.input));
  const png = join(outFolder, `${bed.name}.png`);
  writeFileSync(join(outFolder, `${bed.name}.svg`), svg);
  writeFileSync(png, new Resvg(svg, { font: { loadSystemFonts: true } }).render().asPng());
  return png;
}
