import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { type DrawingOptions, readDxf, readGeoJson, readPointsCsv } from '../core/exchange';
import { isPlanDocument, type Plan, parseJsonText, planFromDocument } from '../core/plan';
import type { Outcome } from '../core/units';

const MAX_BYTES = 64_000_000;

/** How a drawing or a table of points is to be read; what is not given is guessed, and the guess is a finding. */
export type ReadChoices = Omit<DrawingOptions, 'fileName'>;

const refused = (code: string, file: string, detail = ''): Outcome<Plan> => ({
  ok: false,
  problems: [{ code, severity: 'stop', where: { file }, params: { detail } }],
});

/** Reads a plan, a GeoJSON file, a DXF drawing or a table of points as a plan. Every problem names the file and its place. */
export async function readInput(path: string, choices: ReadChoices = {}): Promise<Outcome<Plan>> {
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
  return readPlanText(text, name, choices);
}

/** Begins the text of every DXF drawing, after comments. */
const DRAWING_START = /^(\s*999[ \t]*\r?\n[^\n]*\n)*\s*0[ \t]*\r?\n\s*SECTION/;

/** Reads the text of a plan, a GeoJSON file, a drawing or a table: by the ending of its name, else by what it begins with. */
export function readPlanText(text: string, name: string, choices: ReadChoices = {}): Outcome<Plan> {
  if (/\.dxf$/i.test(name) || DRAWING_START.test(text.slice(0, 10_000))) {
    const read = readDxf(text, { ...choices, fileName: name });
    return read.ok ? { ok: true, value: read.value.plan, problems: read.problems } : read;
  }
  if (/\.csv$/i.test(name)) return readPointsCsv(text, { ...choices, fileName: name });
  const parsed = parseJsonText(text, name);
  if (!parsed.ok) return parsed;
  return isPlanDocument(parsed.value)
    ? planFromDocument(parsed.value, name)
    : readGeoJson(text, { fileName: name });
}
