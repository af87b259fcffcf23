import { describe, expect, it } from 'vitest';
import { isSound, loopRequest, routeGround, sketchOf } from '../../../src/core/layout/groundLoops';
import { routeLoop } from '../../../src/core/layout/loop';
import { bedParts } from '../../../src/core/layout/parts';
import { randomBed } from '../../bench/randomBeds';

describe('a loop that dents at its rows’ ends spoil', () => {
  it.each([5, 18])('is routed again without them: random bed %i', (seed) => {
    const { input } = randomBed(seed);
    const ground = bedParts(input).parts[0]!.routable[0]!;
    const dented = routeLoop({ ...loopRequest(ground, input, 0, null, 'finished'), mending: 'dented' });
    // If dents come to hold on this bed too, another has to be found for this test.
    expect(isSound(sketchOf('dented', dented), input)).toBe(false);
    const found = routeGround(ground, input, 0, null, 'finished');
    expect(isSound(sketchOf('found', found), input)).toBe(true);
  });
});

describe('a loop laid another way', () => {
  const { input } = randomBed(24);
  const ground = bedParts(input).parts[0]!.routable[0]!;
  const across = { ...loopRequest(ground, input, 0, Math.PI / 4, 'quick'), mending: 'dented' as const };

  it('is mended where it might still be the cheaper, and left as it falls out where it cannot be', () => {
    const mended = routeLoop(across);
    const raw = routeLoop({ ...across, beatM: 0 });
    expect(mended.costM).toBeLessThan(raw.costM);
    expect(routeLoop({ ...across, beatM: raw.costM }).loops).toEqual(mended.loops);
  });
});

describe('a loop as it falls out, before anything is mended', () => {
  // The boundary runs aslant to the rows of 15, 41, 21 and 44; in 34 and 53 a row ends beside a tooth that a bridge passes.
  it.each([15, 41, 21, 44, 34, 53])('keeps its runs as far apart as two may lie: random bed %i', (seed) => {
    const { input } = randomBed(seed, 1, 0.3);
    const ground = bedParts(input).parts[0]!.routable[0]!;
    const found = routeLoop(loopRequest(ground, input, 0, null, 'preview'));
    expect(isSound(sketchOf('found', found), input)).toBe(true);
  });
});
