import { mergeParts, readPartsFile, typicalCatalog } from '../../core/catalog';
import type { FileKind } from '../../host/contract';
import { say } from './desk';
import { designWithParts } from './edit';
import { complain } from './files';
import { host } from './host';

const PARTS_KIND: FileKind = { label: 'Parts', extensions: ['json', 'csv'] };

/** Reads the user's own parts, which take part in every design from now on. A file with one fault gives none. */
export async function bringInParts(): Promise<void> {
  const answer = await host.open([PARTS_KIND]);
  if (answer.kind === 'refused') say('The file could not be read.', 'stop', answer.detail);
  if (answer.kind !== 'done') return;
  const { name, bytes } = answer.value;
  const read = readPartsFile(new TextDecoder().decode(bytes), /\.csv$/i.test(name) ? 'csv' : 'json', name);
  if (!read.ok) {
    complain(read.problems);
    return;
  }
  designWithParts(mergeParts(typicalCatalog, read.value));
  const count = `${read.value.length} ${read.value.length === 1 ? 'part' : 'parts'} of your own`;
  say(`The design now counts ${count}.`, 'note', 'Bring them in again after the program was closed.');
}
