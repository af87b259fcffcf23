import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { readPlan, writePlan } from '../../../src/core/plan';

const path = fileURLToPath(new URL('../../../assets/demonstration.rillsheet.json', import.meta.url));

it('the demonstration plan opens without a problem and is kept as the program would save it', () => {
  const text = readFileSync(path, 'utf8');
  const read = readPlan(text, 'demonstration');
  expect(read.problems).toEqual([]);
  expect(read.ok && writePlan(read.value)).toBe(text);
});
