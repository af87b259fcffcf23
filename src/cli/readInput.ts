import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { readGeoJson } from '../core/exchange';
import { isPlanDocument, type Plan, parseJsonText, planFromDocument } from '../core/plan';
import type { Outcome } from '../core/units';

const MAX_BYTES = 64_000_000;

const refused = (code: string, file: string, detail = ''): Outcome<Plan> => ({
  ok: false,
  problems: [{ code, severity: 'stop', where: { file }, params: { detail } }],
});

/** Reads a plan or a GeoJSON file as a plan. Every problem names the file and its place. */
export async function readInput(path: string): Promise<Outcome<Plan>> {
  const name = basename(path);
  let text: string;
  try {
    const found = await stat(path);
    if (!found.isFile()) return refused('file.not-a-file', name);
    if (found.size > MAX_BYTES) return refused('file.too-large', name);
    text = await readFile(path, 'utf8');
  } catch (error) {
    const isMissing = (error as NodeJS.ErrnoException | null)?.code === 'ENOENT';
    return refused(
      isMissing ? 'file.missing' : 'file.cannot-read',
      name,
      error instanceof Error ? error.message : '',
    );
  }
  return readPlanText(text, name);
}

/** Reads the text of a plan or of a GeoJSON file as a plan. */
export function readPlanText(text: string, name: string): Outcome<Plan> {
  const parsed = parseJsonText(text, name);
  if (!parsed.ok) return parsed;
  return isPlanDocument(parsed.value)
    ? planFromDocument(parsed.value, name)
    : readGeoJson(text, { fileName: name });
}
