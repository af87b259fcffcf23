import { describe, expect, it } from 'vitest';
import { inCommon } from '../../../src/app/state/alike';

describe('several things edited at once', () => {
  it('show the value they agree on, and say where they do not', () => {
    const trees = [
      { trunkRadiusM: 0.2, canopyRadiusM: 2 },
      { trunkRadiusM: 0.2, canopyRadiusM: 3 },
    ];
    expect(inCommon(trees, 'trunkRadiusM')).toEqual({ value: 0.2, isMixed: false });
    expect(inCommon(trees, 'canopyRadiusM').isMixed).toBe(true);
    expect(inCommon(trees.slice(0, 1), 'canopyRadiusM')).toEqual({ value: 2, isMixed: false });
  });
});
