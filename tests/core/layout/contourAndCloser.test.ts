import { describe, expect, it } from 'vitest';
import { layoutBed } from '../../../src/core/layout';
import { randomBed } from '../../bench/randomBeds';
import { figuresOf } from '../../bench/routingTargets';
import { shapedBeds } from '../../bench/shapedBeds';

const bedCalled = (name: string) => shapedBeds().find((bed) => bed.name === name)!.input;

describe('a winding ribbon', () => {
  it('is laid along, in rows that share its width, not in a hundred short rows across', () => {
    const input = bedCalled('long-s-strip');
    const [part] = layoutBed(input);
    const figures = figuresOf(part!, input);
    expect(part!.layout).toBe('contour');
    expect(part!.verified.failures).toEqual([]);
    // Two edges of about 26.5 m each way and two rows between them: four rows, and a turn or a slot's corner at few places.
    expect(figures.lengthM).toBeGreaterThan(4 * 26);
    expect(figures.lengthM).toBeLessThan(4 * 31);
    expect(figures.turns).toBeLessThanOrEqual(16);
    expect(figures.coveredRatio).toBeGreaterThan(0.995);
  });
});

describe('a small bed with slanted edges', () => {
  it('has its rows a little closer where their bends would leave corners dry', () => {
    const [part] = layoutBed(randomBed(13, 1, 0.3).input);
    expect(part!.chosen).toBe('loop-closer');
    expect(part!.rowSpacingM).toBeLessThan(part!.nominalRowSpacingM);
    expect(part!.coverage.coveredRatio).toBeGreaterThan(0.995);
  });
});
