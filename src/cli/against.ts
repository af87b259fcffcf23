import { basename } from 'node:path';
import type { Catalog } from '../core/catalog';
import { compareWays, type Design, designPlan } from '../core/design';
import { drawWays, type PaperKey, type WayNames } from '../core/drawing';
import { waysCsv, waysJsonText } from '../core/exchange';
import type { Outcome } from '../core/units';
import { type FontBytes, renderPdf } from '../render';
import type { OutputFile } from './outputs';
import { type ReadChoices, readInput } from './readInput';

/** What the second design needs beside its file. */
interface AgainstContext {
  readonly catalog: Catalog;
  readonly fonts: FontBytes;
  readonly names: WayNames;
  readonly read?: ReadChoices;
  readonly paper: PaperKey | null;
}

/** A plan's file as a way is called by it: no folder, no ending. */
export const wayName = (file: string): string => basename(file).replace(/(\.rillsheet)?\.[a-z]+$/i, '');

/** Designs another plan of the same site and weighs it: `ways.csv`, `ways.json`, `ways.pdf`. Fails as reading the file does. */
export async function outputsAgainst(
  file: string,
  first: Design,
  context: AgainstContext,
): Promise<Outcome<readonly OutputFile[]>> {
  const read = await readInput(file, context.read);
  if (!read.ok) return read;
  const { units } = first.plan.display;
  const plan = { ...read.value, display: { ...read.value.display, units } };
  const second = designPlan(plan, context.catalog, { quality: 'finished' });
  const compared = compareWays(first, second);
  const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
  const { names } = context;
  return {
    ok: true,
    problems: [],
    value: [
      { name: 'ways.csv', bytes: bytes(waysCsv(first, compared, names)) },
      { name: 'ways.json', bytes: bytes(waysJsonText(compared, names)) },
      {
        name: 'ways.pdf',
        bytes: renderPdf(drawWays(first, second, compared, names, context.paper), context.fonts),
      },
    ],
  };
}
