import { writeSync } from 'node:fs';
import { writeSafely } from '../../../src/host/node';
import { versionText } from './versions';

/** Saves one version after another until it is killed; says each number once its save has succeeded. */
const [path = '', from = '1'] = process.argv.slice(2);
for (let n = Number(from); ; n++) {
  const result = await writeSafely(path, new TextEncoder().encode(versionText(n)));
  if (!result.ok) throw new Error(result.detail);
  writeSync(1, `${n}\n`);
}
