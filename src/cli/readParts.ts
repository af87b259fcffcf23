import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { type Catalog, mergeParts, readPartsFile, typicalCatalog } from '../core/catalog';
import type { Outcome } from '../core/units';

const MAX_BYTES = 16_000_000;

const refused = (code: string, file: string): Outcome<Catalog> => ({
  ok: false,
  problems: [{ code, severity: 'stop', where: { file }, params: { detail: '' } }],
});

/** The catalogue to design with: the typical parts, with the user's own in their place where a parts file is given. */
export async function readCatalog(path: string | null): Promise<Outcome<Catalog>> {
  if (path === null) return { ok: true, value: typicalCatalog, problems: [] };
  const name = basename(path);
  let text: string;
  try {
    const found = await stat(path);
    if (!found.isFile()) return refused('file.not-a-file', name);
    if (found.size > MAX_BYTES) return refused('file.too-large', name);
    text = await readFile(path, 'utf8');
  } catch (error) {
    const isMissing = (error as NodeJS.ErrnoException | null)?.code === 'ENOENT';
    return refused(isMissing ? 'file.missing' : 'file.cannot-read', name);
  }
  const read = readPartsFile(text, /\.csv$/i.test(path) ? 'csv' : 'json', name);
  return read.ok ? { ok: true, value: mergeParts(typicalCatalog, read.value), problems: [] } : read;
}
