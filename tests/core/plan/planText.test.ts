import { describe, expect, it } from 'vitest';
import { emptyPlan, parseJsonText, plainBed, readPlan, writePlan } from '../../../src/core/plan';

const plan = () => ({
  ...emptyPlan('p1'),
  beds: {
    b: plainBed('b', [
      {
        points: [
          { x: 0, y: 0 },
          { x: 1, y: 0 },
          { x: 1, y: 1 },
        ],
        edges: [0, 1, 2].map(() => ({ class: null, offsetM: null, sagittaM: 0 })),
      },
    ]),
  },
});
const codes = (text: string) => readPlan(text, 'x.json').problems.map((p) => p.code);

describe('the plan file', () => {
  it('a saved plan reads back equal, and a second save gives the same bytes', () => {
    const text = writePlan(plan());
    const read = readPlan(text, 'garden.json');
    expect(read.ok && read.value).toEqual(plan());
    expect(read.ok && writePlan(read.value)).toBe(text);
  });

  it('a moved corner is a one-line difference', () => {
    const before = writePlan(plan()).split('\n');
    const moved = plan();
    moved.beds.b!.rings[0]!.points[1] = { x: 1.25, y: 0 };
    const after = writePlan(moved).split('\n');
    expect(after.length).toBe(before.length);
    expect(after.filter((line, i) => line !== before[i]).length).toBe(1);
  });

  it('a file of a newer version is refused by name', () => {
    expect(codes(writePlan(plan()).replace('"version": 1', '"version": 99'))).toEqual(['plan.newer']);
  });

  it('an unknown key, a key under a wrong id and a wrong type are each named with their path', () => {
    const text = writePlan(plan());
    expect(readPlan(text.replace('"settings": {}', '"settings": {}, "colour": 1'), 'x.json').ok).toBe(false);
    expect(codes(text.replace('"id": "b"', '"id": "c"'))).toContain('plan.id-mismatch');
    const wrong = readPlan(text.replace('"staggered": false', '"staggered": "no"'), 'x.json');
    expect(wrong.problems[0]).toMatchObject({
      code: 'plan.bad-value',
      where: { file: 'x.json', path: 'beds.b.staggered' },
    });
  });
});

describe('text from outside', () => {
  it('nesting two hundred thousand deep is refused before parsing, with its place', () => {
    const result = parseJsonText('['.repeat(200_000), 'deep.json');
    expect(result.problems[0]).toMatchObject({
      code: 'file.too-deep',
      where: { file: 'deep.json', line: 1, column: 65 },
    });
  });

  it('brackets inside a text do not count as nesting', () => {
    expect(parseJsonText(JSON.stringify({ a: '['.repeat(500) }), 'x.json').ok).toBe(true);
  });

  it('a number past the largest double and a key into the prototype are named with their path', () => {
    expect(parseJsonText('{"a":[1,1e999]}', 'x.json').problems[0]).toMatchObject({
      code: 'file.number-too-large',
      where: { path: 'a[1]' },
    });
    expect(parseJsonText('{"a":{"__proto__":{"x":1}}}', 'x.json').problems[0]).toMatchObject({
      code: 'file.forbidden-key',
      where: { path: 'a.__proto__' },
    });
  });

  it('a cut file is told from a wrong one', () => {
    expect(parseJsonText('{"a": [1, 2', 'x.json').problems[0]?.code).toBe('file.cut-short');
    expect(parseJsonText('{\n "a": oops }', 'x.json').problems[0]).toMatchObject({
      code: 'file.not-json',
      where: { line: 2 },
    });
  });
});
