import { readdirSync, readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { jsonSchemas } from '../../../build/jsonSchemas';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { designJsonText, designSchema, readGeoJson } from '../../../src/core/exchange';
import { readPlan } from '../../../src/core/plan';

const folder = new URL('../../../assets/schema/', import.meta.url);
const textOf = (name: string) => readFileSync(new URL(name, folder), 'utf8');
const validator = (name: string) =>
  new Ajv2020({ strict: false, validateFormats: false }).compile(JSON.parse(textOf(name)));

describe('the published schemas', () => {
  it.each(Object.entries(jsonSchemas()))(
    '%s.schema.json is what the code checks by (run npm run schemas)',
    (name, text) => {
      expect(textOf(`${name}.schema.json`)).toBe(text);
    },
  );

  it.each(['plan', 'design', 'parts'])('the example %s validates, by another library', (name) => {
    const validate = validator(`${name}.schema.json`);
    const example = JSON.parse(textOf(`examples/${name}.json`));
    expect(validate(example), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ ...example, stray: 1 })).toBe(false);
  });

  it('the example GeoJSON and the example plan are the same site', () => {
    const fromMap = readGeoJson(textOf('examples/site.geojson'), { fileName: 'site.geojson' });
    const fromPlan = readPlan(textOf('examples/plan.json'), 'plan.json');
    expect(fromMap.ok && fromPlan.ok && fromMap.value).toEqual(fromPlan.ok && fromPlan.value);
  });

  it('every bed on file gives a design.json that validates', () => {
    const validate = validator('design.schema.json');
    const beds = new URL('../../reference/beds/', import.meta.url);
    for (const name of readdirSync(beds).filter((one) => /^(01|10|11|26|27|29).*geojson$/.test(one))) {
      const read = readGeoJson(readFileSync(new URL(name, beds), 'utf8'), { fileName: name });
      if (!read.ok) continue;
      const design = designPlan(read.value, typicalCatalog, { quality: 'preview' });
      const json = JSON.parse(designJsonText(design));
      expect(validate(json), `${name} ${JSON.stringify(validate.errors?.slice(0, 3))}`).toBe(true);
      expect(designSchema.safeParse(json).success).toBe(true);
    }
  });
});
