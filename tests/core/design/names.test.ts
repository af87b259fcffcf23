import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { type Plan, readPlan } from '../../../src/core/plan';
import { printer } from '../../../src/core/units';
import { sayProblem } from '../../../src/core/words';

const read = readPlan(
  readFileSync(new URL('../../../assets/demonstration.rillsheet.json', import.meta.url), 'utf8'),
  'demonstration.rillsheet.json',
);
if (!read.ok) throw new Error('the demonstration reads');

const nameless = <T extends object>(items: Readonly<Record<string, T>>): Record<string, T> =>
  Object.fromEntries(
    Object.entries(items).map(([id, item]) => [id, 'name' in item ? { ...item, name: '' } : item]),
  );

describe('a plan on which nothing was given a name', () => {
  const { beds, structures, trees, plants, utilities } = read.value;
  const plan: Plan = {
    ...read.value,
    beds: nameless(beds),
    structures: nameless(structures),
    trees: nameless(trees),
    plants: nameless(plants),
    utilities: nameless(utilities),
  };
  const design = designPlan(plan, typicalCatalog, { quality: 'preview' });
  const ids = [beds, structures, trees, plants, utilities].flatMap((items) => Object.keys(items));
  const withId = (text: string): boolean =>
    ids.some((id) => new RegExp(`(^|[^\\w-])${id}($|[^\\w-])`).test(text)) || /\bzone-\d/.test(text);

  it('is spoken of by letters and kinds in every finding, not by ids', () => {
    const print = printer('us');
    const said = design.findings.flatMap((finding) => {
      const { what, why, next } = sayProblem(finding, print);
      return [what, why, next];
    });
    expect(said.length).toBeGreaterThan(20);
    expect(said.filter(withId)).toEqual([]);
  });

  it('so are its beds, its zones and the traces of its figures; the plan itself stays as it was drawn', () => {
    expect(design.beds.map((bed) => bed.name)).toEqual(['Bed A', 'Bed B', 'Bed C']);
    expect(design.supply.zones.map((zone) => zone.name).filter(withId)).toEqual([]);
    const traced = design.traces.flatMap((trace) => [
      trace.formula,
      ...trace.inputs.map((input) => `${input.name} ${input.from ?? ''}`),
    ]);
    expect(traced.filter(withId)).toEqual([]);
    expect(design.plan).toBe(plan);
  });
});
