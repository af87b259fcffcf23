import { z } from 'zod';
import { partsFileSchema, typicalCatalog } from '../src/core/catalog';
import { designPlan } from '../src/core/design';
import { designJsonText, designSchema, readGeoJson } from '../src/core/exchange';
import { planSchema, writePlan } from '../src/core/plan';

const TITLES = {
  plan: 'A Rillsheet plan: what was drawn, measured and chosen. Metres, radians, metres of head, m3/s.',
  design: 'A Rillsheet design: everything computed from a plan. Metres, radians, metres of head, m/s, m3/s.',
  parts: "A Rillsheet parts file: the user's own parts, which take the place of the typical ones. SI units.",
} as const;

/** JSON Schemas (draft 2020-12) of the files others build on, by name, made from the code's own schemas. */
export function jsonSchemas(): Readonly<Record<keyof typeof TITLES, string>> {
  const text = (name: keyof typeof TITLES, schema: z.ZodType): string =>
    `${JSON.stringify({ title: TITLES[name], ...z.toJSONSchema(schema) }, null, 2)}\n`;
  return {
    plan: text('plan', planSchema),
    design: text('design', designSchema),
    parts: text('parts', partsFileSchema),
  };
}

/** The example plan and design, made from the example GeoJSON: what a reader of the formats can hold beside them. */
export function exampleFiles(geoJson: string): Readonly<Record<string, string>> {
  const read = readGeoJson(geoJson, { fileName: 'site.geojson' });
  if (!read.ok) throw new Error(`the example does not read: ${JSON.stringify(read.problems)}`);
  const design = designPlan(read.value, typicalCatalog, { quality: 'finished' });
  return { 'plan.json': writePlan(read.value), 'design.json': designJsonText(design) };
}
