import { readFileSync } from 'node:fs';
import { typicalCatalog } from '../../src/core/catalog';
import { type Design, designPlan } from '../../src/core/design';
import { readGeoJson } from '../../src/core/exchange';
import { readPlan } from '../../src/core/plan';

const read = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

/** The demonstration, routed as the window shows it first, or as it is printed. */
export function demonstrationDesign(quality: 'preview' | 'finished' = 'preview'): Design {
  const plan = readPlan(read('assets/demonstration.rillsheet.json'), 'demonstration.rillsheet.json');
  if (!plan.ok) throw new Error('the demonstration cannot be read');
  return designPlan(plan.value, typicalCatalog, { quality });
}

/** One of the beds on file, routed as the window shows it first. */
export function bedDesign(fileName: string): Design {
  const plan = readGeoJson(read(`tests/reference/beds/${fileName}`), { fileName });
  if (!plan.ok) throw new Error(`${fileName} cannot be read`);
  return designPlan(plan.value, typicalCatalog, { quality: 'preview' });
}
