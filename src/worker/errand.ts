import type { Design } from '../core/design';
import { drawCalculations, drawSheetSet } from '../core/drawing';
import {
  cutsCsv,
  designJsonText,
  readDxf,
  readGeoJson,
  readPointsCsv,
  takeoffCsv,
  writeDxf,
  writeGeoJson,
} from '../core/exchange';
import { readPlan } from '../core/plan';
import { type FontBytes, renderPdf } from '../render';

/** Outputs that are text, by the ending of their file. */
const TEXTS = {
  geojson: writeGeoJson,
  dxf: writeDxf,
  'takeoff.csv': takeoffCsv,
  'cuts.csv': cutsCsv,
  'design.json': designJsonText,
} as const;

export type TextEnding = keyof typeof TEXTS;

const LISTS = {
  sheet: (design: Design) => drawSheetSet(design, {}),
  calculations: drawCalculations,
} as const;

/** Jobs that may take longer than a person waits without wondering, each with what it is given. All given and answered is plain data. */
const ERRANDS = {
  plan: (given: { readonly text: string; readonly fileName: string }) => readPlan(given.text, given.fileName),
  geojson: ({ text, fileName }: { readonly text: string; readonly fileName: string }) =>
    readGeoJson(text, { fileName }),
  points: ({ text, fileName }: { readonly text: string; readonly fileName: string }) =>
    readPointsCsv(text, { fileName }),
  drawing: ({ text, ...options }: { readonly text: string } & Parameters<typeof readDxf>[1]) =>
    readDxf(text, options),
  sheet: (given: { readonly design: Design }) => LISTS.sheet(given.design),
  pdf: (given: { readonly design: Design; readonly of: keyof typeof LISTS; readonly fonts: FontBytes }) =>
    renderPdf(LISTS[given.of](given.design), given.fonts),
  text: (given: { readonly design: Design; readonly ending: TextEnding }) =>
    TEXTS[given.ending](given.design),
} as const;

type Errands = typeof ERRANDS;
export type ErrandKind = keyof Errands;
export type ErrandGiven<K extends ErrandKind> = Parameters<Errands[K]>[0];
export type ErrandResult<K extends ErrandKind> = ReturnType<Errands[K]>;

/** One job on its way to the worker that does it. */
export interface Errand<K extends ErrandKind = ErrandKind> {
  readonly kind: K;
  readonly given: ErrandGiven<K>;
}

/** What came of it, or the broken claim of the bug that kept it from being done. */
export type ErrandAnswer<K extends ErrandKind = ErrandKind> =
  | { readonly kind: 'done'; readonly result: ErrandResult<K> }
  | { readonly kind: 'failed'; readonly claim: string };

/** Does one job. A bug becomes an answer, so that the desk can say it. */
export function doErrand<K extends ErrandKind>({ kind, given }: Errand<K>): ErrandAnswer<K> {
  try {
    const run = ERRANDS[kind] as (given: ErrandGiven<K>) => ErrandResult<K>;
    return { kind: 'done', result: run(given) };
  } catch (error) {
    return { kind: 'failed', claim: String(error) };
  }
}
