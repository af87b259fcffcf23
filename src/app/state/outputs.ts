import type { Design } from '../../core/design';
import { type DrawingList, drawCalculations, drawSheetSet } from '../../core/drawing';
import { cutsCsv, designJsonText, takeoffCsv, writeDxf, writeGeoJson } from '../../core/exchange';
import { FONT_FILES, type FontBytes, renderPdf } from '../../render';
import { isStale, say, useDesk } from './desk';
import { suggestedName } from './files';
import { host } from './host';

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

/** The finished design of the very plan on the desk; null, with the reason said, while there is none. */
function readyDesign(): Design | null {
  const state = useDesk.getState();
  if (state.design === null || isStale(state) || state.design.quality !== 'finished') {
    say(
      'The design is still being worked out.',
      'note',
      'Try again when the sheet is no longer marked stale.',
    );
    return null;
  }
  return state.design;
}

async function asPdf(list: DrawingList): Promise<Uint8Array> {
  faces ??= loadFaces();
  return renderPdf(list, await faces);
}

export async function printSheet(): Promise<void> {
  const design = readyDesign();
  if (!design) return;
  await host.print(await asPdf(drawSheetSet(design, {})), suggestedName(design.plan, 'pdf'));
}

export async function exportSheet(): Promise<void> {
  const design = readyDesign();
  if (!design) return;
  await host.exportBytes(
    suggestedName(design.plan, 'pdf'),
    'application/pdf',
    await asPdf(drawSheetSet(design, {})),
  );
}

export async function exportCalculations(): Promise<void> {
  const design = readyDesign();
  if (!design) return;
  const name = `calculations of ${suggestedName(design.plan, 'pdf')}`;
  await host.exportBytes(name, 'application/pdf', await asPdf(drawCalculations(design)));
}

/** Outputs that are text, by the ending of their file. */
const TEXTS = {
  geojson: { mimeType: 'application/geo+json', write: writeGeoJson },
  dxf: { mimeType: 'image/vnd.dxf', write: writeDxf },
  'takeoff.csv': { mimeType: 'text/csv', write: takeoffCsv },
  'cuts.csv': { mimeType: 'text/csv', write: cutsCsv },
  'design.json': { mimeType: 'application/json', write: designJsonText },
} as const;

/** Hands over one of the text outputs of the finished design. */
export async function exportText(ending: keyof typeof TEXTS): Promise<void> {
  const design = readyDesign();
  if (!design) return;
  const { mimeType, write } = TEXTS[ending];
  await host.exportBytes(
    suggestedName(design.plan, ending),
    mimeType,
    new TextEncoder().encode(write(design)),
  );
}
