import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { printer } from '../../../src/core/units';
import { sayProblem, sentenceOf, soilwaterFigureNames } from '../../../src/core/words';

const room = new URL('../../../src/core/soilwater/', import.meta.url);
const source = readdirSync(room)
  .map((name) => readFileSync(new URL(name, room), 'utf8'))
  .join('\n');
const codes = [...new Set([...source.matchAll(/'(soilwater\.[a-z-]+)'/g)].map((match) => match[1] ?? ''))];

describe('the words of soil and water', () => {
  it('every code of the room has its sentence or the name of its figure', () => {
    expect(codes.length).toBeGreaterThan(30);
    for (const code of codes)
      expect(sentenceOf(code) !== null || soilwaterFigureNames[code] !== undefined, code).toBe(true);
  });

  it('a week that does not fit names its months as a person would', () => {
    const said = sayProblem(
      {
        code: 'soilwater.week-does-not-fit',
        severity: 'warn',
        where: {},
        params: { months: ['5', '6', '7', '9'], month: 7, overMinutes: 12, windowMinutes: 240 },
      },
      printer('us'),
    );
    expect(said.what).toBe(
      'The week does not fit the watering window in May to Jul, Sep: Jul runs 12 minutes past it.',
    );
  });
});
