import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { runnerImport } from 'vite';
import { root } from './install.mjs';

// Writes assets/schema anew: the schemas, and the example plan and design made from the example GeoJSON. A test fails where a schema is behind the code or an example does not hold to it.
const { module } = await runnerImport(join(root, 'build/jsonSchemas.ts'));
const folder = join(root, 'assets/schema');
const examples = join(folder, 'examples');
mkdirSync(examples, { recursive: true });
for (const [name, text] of Object.entries(module.jsonSchemas())) {
  writeFileSync(join(folder, `${name}.schema.json`), text);
  console.log(`assets/schema/${name}.schema.json`);
}
const site = readFileSync(join(examples, 'site.geojson'), 'utf8');
for (const [name, text] of Object.entries(module.exampleFiles(site))) {
  writeFileSync(join(examples, name), text);
  console.log(`assets/schema/examples/${name}`);
}
