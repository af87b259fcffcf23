import { expect, it } from 'vitest';
import { printer } from '../../../src/core/units';
import { sayProblem } from '../../../src/core/words';

const alike = (beds: readonly string[]): string =>
  sayProblem(
    {
      code: 'supply.zone-alike',
      severity: 'note',
      where: { id: 'bed-1' },
      params: { beds, plants: 'high', sun: 'full-sun', soil: 'loam', zoneKey: '' },
    },
    printer('us'),
  ).what;

it('beds on one valve are said to share it, one bed alone is not', () => {
  expect(alike(['A', 'B'])).toMatch(
    /^A, B share a valve: same high water, full sun, loam, slope and tubing\.$/,
  );
  expect(alike(['A'])).toBe('A has a valve of its own: high water, full sun, loam.');
});
