import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { layoutBed } from '../../../src/core/layout';
import { type BedFile, readBedFiles } from '../bedFiles';
import { randomBed } from '../randomBeds';
import { shapedBeds } from '../shapedBeds';
import { bedPicture } from './bedPicture';

/** What to draw and where to. */
export interface PictureOptions {
  readonly bedFolder: string;
  readonly outFolder: string;
  /** Beds whose name holds this; all where it is empty. */
  readonly only?: string;
  /** Random beds by seed, beside the files and the shaped beds. */
  readonly seeds?: readonly number[];
}

/** Draws every bed with its finished route into a folder, as SVG and PNG, to be looked at as an installer would. Gives each PNG's path as it is done. */
export function* drawBeds(options: PictureOptions): Generator<string> {
  const random = (options.seeds ?? []).map((seed) => randomBed(seed));
  for (const bed of [...readBedFiles(options.bedFolder), ...shapedBeds(), ...random])
    if (bed.name.includes(options.only ?? '')) yield drawBed(bed, options.outFolder);
}

function drawBed(bed: BedFile, outFolder: string): string {
  mkdirSync(outFolder, { recursive: true });
  const svg = bedPicture(bed.input, layoutBed(bed.input));
  const png = join(outFolder, `${bed.name}.png`);
  writeFileSync(join(outFolder, `${bed.name}.svg`), svg);
  writeFileSync(png, new Resvg(svg, { font: { loadSystemFonts: true } }).render().asPng());
  return png;
}
