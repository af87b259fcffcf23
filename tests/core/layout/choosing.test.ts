import { describe, expect, it } from 'vitest';
import { byFitness, cheapest } from '../../../src/core/layout/choosing';
import type { Dryness } from '../../../src/core/layout/goal';
import type { Judged } from '../../../src/core/layout/judging';

/** A layout that passed the verifier, with what counts in the choice. */
const judged = (
  key: string,
  costM: number,
  dryCostM: number,
  valid = true,
  dryness: Dryness = 'dry',
): Judged =>
  ({
    sketches: [],
    dryCostM,
    dryness,
    alternative: {
      key,
      layout: 'loop',
      costM,
      valid,
      coverage: { coveredRatio: 0.99 },
      runs: [{ role: 'loop' }],
    },
  }) as unknown as Judged;

const keys = (candidates: readonly Judged[]): string[] =>
  byFitness(candidates).map(({ alternative }) => alternative.key);

describe('the fittest layout', () => {
  it('waters as the goal asks before it is cheap, up to a fifth more', () => {
    expect(keys([judged('dry', 100, 4), judged('wet', 119, 0)])).toEqual(['wet', 'dry']);
    expect(keys([judged('dry', 100, 4), judged('wet', 122, 0)])).toEqual(['dry', 'wet']);
  });

  it('is the cheapest among those that water as asked, whatever came first', () => {
    expect(keys([judged('b', 106, 0), judged('a', 104, 0), judged('dry', 100, 3)])).toEqual([
      'a',
      'b',
      'dry',
    ]);
  });

  it('waters as asked where hardly any of its cost is for dry ground', () => {
    expect(keys([judged('dry', 100, 4), judged('hardly dry', 106, 1)])).toEqual(['hardly dry', 'dry']);
    expect(keys([judged('dry', 100, 4), judged('drier', 106, 2)])).toEqual(['dry', 'drier']);
  });

  it('waters as asked where its coverage and widest gap say so, whatever the rest costs', () => {
    expect(keys([judged('dry', 100, 4), judged('watered', 106, 3, true, 'none')])).toEqual([
      'watered',
      'dry',
    ]);
    const gap = judged('gap', 103, 3, true, 'wide-gap');
    expect(keys([judged('dry', 100, 4), gap, judged('watered', 106, 3, true, 'none')])).toEqual([
      'watered',
      'gap',
      'dry',
    ]);
  });

  it('is of one loop before two where one waters enough for little more', () => {
    const ofTwo = (one: Judged): Judged =>
      ({
        ...one,
        alternative: { ...one.alternative, runs: [{ role: 'loop' }, { role: 'loop' }] },
      }) as unknown as Judged;
    const two = ofTwo(judged('two', 100, 0, true, 'none'));
    expect(keys([two, judged('one', 115, 3, true, 'wide-gap')])).toEqual(['one', 'two']);
    expect(keys([two, judged('dear', 125, 3, true, 'wide-gap')])).toEqual(['two', 'dear']);
    expect(keys([two, judged('dry', 115, 30)])).toEqual(['two', 'dry']);
  });

  it('has passed the verifier, and so has the cheapest', () => {
    const broken = judged('broken', 10, 0, false);
    expect(keys([broken, judged('sound', 100, 4)])).toEqual(['sound', 'broken']);
    expect(cheapest([broken, judged('wet', 107, 0), judged('dry', 100, 4)])?.alternative.key).toBe('dry');
    expect(cheapest([broken])).toBeNull();
  });
});
