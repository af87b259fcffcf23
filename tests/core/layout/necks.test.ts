import { describe, expect, it } from 'vitest';
import { layoutBed } from '../../../src/core/layout';
import { randomBed } from '../../bench/randomBeds';

describe('ground on both sides of a neck that no loop passes', () => {
  it('is laid as a loop each, as far apart at the neck as two runs must lie', () => {
    // Two rectangles corner to corner, their offsets nearly meeting: the loops' own corners lay 145 mm apart there.
    const { input } = randomBed(272, 1, 0.3);
    const [part] = layoutBed(input);
    expect(part!.status).toBe('routed');
    expect(part!.verified.failures).toEqual([]);
    expect(part!.runs.filter((run) => run.role === 'loop')).toHaveLength(2);
    expect(part!.verified.separationM).toBeGreaterThan(0.6 * input.rowSpacingM - 0.002);
    expect(part!.coverage.coveredRatio).toBeGreaterThan(0.99);
  });
});

describe('ground that hangs together through a neck little wider than two runs', () => {
  it.each([
    ['beside a boulder on a ribbon', 5],
    ['between two rectangles corner to corner', 20],
    ['round two boulders', 211],
    ['by the wider of two ways past boulders', 79],
    ['joined again between five obstacles where its bent corners tore it', 22],
    ['where the nearest places for a joint all lie in one thin corner', 568],
  ])('is served by one loop: %s', (_where, seed) => {
    const { input } = randomBed(seed, 1, 0.3);
    const [part] = layoutBed(input);
    expect(part!.verified.failures).toEqual([]);
    expect(part!.runs.filter((run) => run.role === 'loop')).toHaveLength(1);
    expect(part!.coverage.coveredRatio).toBeGreaterThan(0.99);
  });
});
