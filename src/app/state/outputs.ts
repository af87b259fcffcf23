import type { Design } from '../../core/design';
import { FONT_FILES, type FontBytes } from '../../render';
import type { TextEnding } from '../../worker';
import { runShown } from './errands';
import { suggestedName } from './files';
import { host } from './host';
import { readyDesign } from './readyDesign';

/** Where the bundle keeps each face, by its file name. */
const FACES: Readonly<Record<string, string>> = import.meta.glob('../../../assets/fonts/*.ttf', {
  eager: true,
  query: '?url',
  import: 'default',
});

let faces: Promise<FontBytes> | null = null;

async function loadFaces(): Promise<FontBytes> {
  const entries = await Promise.all(
    Object.entries(FONT_FILES).map(async ([font, file]) => {
      const address = Object.entries(FACES).find(([path]) => path.endsWith(`/${file}`))?.[1];
      if (!address) throw new Error(`the face ${file} is not in the bundle`);
      const answer = await fetch(address);
      return [font, new Uint8Array(await answer.arrayBuffer())] as const;
    }),
  );
  return Object.fromEntries(entries);
}

/** Prints pages in the worker; null where it was stopped. */
async function asPdf(design: Design, of: 'sheet' | 'calculations'): Promise<Uint8Array | null> {
  faces ??= loadFaces();
  const fonts = await faces;
  return runShown('Drawing the pages', 'pdf', { design, of, fonts });
}

export async function printSheet(): Promise<void> {
  const design = await readyDesign('foreseen');
  const bytes = design && (await asPdf(design, 'sheet'));
  if (bytes) await host.print(bytes, suggestedName(design.plan, 'pdf'));
}

export async function exportSheet(): Promise<void> {
  const design = await readyDesign('foreseen');
  const bytes = design && (await asPdf(design, 'sheet'));
  if (bytes) await host.exportBytes(suggestedName(design.plan, 'pdf'), 'application/pdf', bytes);
}

export async function exportCalculations(): Promise<void> {
  const design = await readyDesign('settled');
  const bytes = design && (await asPdf(design, 'calculations'));
  if (!bytes) return;
  const name = `calculations of ${suggestedName(design.plan, 'pdf')}`;
  await host.exportBytes(name, 'application/pdf', bytes);
}

const MIME_TYPES: Readonly<Record<TextEnding, string>> = {
  geojson: 'application/geo+json',
  dxf: 'image/vnd.dxf',
  'takeoff.csv': 'text/csv',
  'cuts.csv': 'text/csv',
  'design.json': 'application/json',
};

/** Hands over one of the text outputs of the finished design. */
export async function exportText(ending: TextEnding): Promise<void> {
  const design = await readyDesign('settled');
  if (!design) return;
  const text = await runShown('Writing the file', 'text', { design, ending });
  if (text === null) return;
  await host.exportBytes(
    suggestedName(design.plan, ending),
    MIME_TYPES[ending],
    new TextEncoder().encode(text),
  );
}
