import { describe, expect, it } from 'vitest';
import { isSound, loopRequest, routeMended, sketchOf } from '../../../src/core/layout/groundLoops';
import { type LoopRoute, routeLoop } from '../../../src/core/layout/loop';
import { bedParts } from '../../../src/core/layout/parts';
import type { Sketch } from '../../../src/core/layout/sketch';
import { randomBed } from '../../bench/randomBeds';

describe('a loop that dents at its rows’ ends spoil', () => {
  const { input } = randomBed(24);
  const ground = bedParts(input).parts[0]!.routable[0]!;
  const request = loopRequest(ground, input, 0, null, 'quick');
  const dented = routeLoop({ ...request, mending: ['dented'] });
  const pulled = routeLoop({ ...request, mending: ['pulled'] });

  it('is taken with its dents where it holds on the bed', () => {
    expect(dented.loops).not.toEqual(pulled.loops);
    expect(isSound(sketchOf('dented', dented), input)).toBe(true);
    expect(routeMended(request, input).loops).toEqual(dented.loops);
  });

  /** As it would lie on the bed, half a kilometre off it where `isAstray` says so. */
  const sketched =
    (isAstray: (found: LoopRoute) => boolean) =>
    (found: LoopRoute): Sketch =>
      sketchOf('sketched', {
        ...found,
        loops: found.loops.map((loop) => ({
          ...loop,
          path: isAstray(found) ? loop.path.map(({ x, y }) => ({ x: x + 500, y })) : loop.path,
        })),
      });

  it('is mended without them where it does not hold on the bed', () => {
    const astray = sketched((found) => found.costM === dented.costM);
    expect(isSound(astray(dented), input)).toBe(false);
    expect(isSound(astray(pulled), input)).toBe(true);
    expect(routeMended(request, input, astray).loops).toEqual(pulled.loops);
  });

  it('stays as it was laid where nothing that mends it holds', () => {
    const bare = routeLoop({ ...request, mending: ['bare'] });
    expect(bare.costM).toBeGreaterThan(pulled.costM);
    const astray = sketched((found) => found.costM !== bare.costM);
    expect(routeMended(request, input, astray).loops).toEqual(bare.loops);
  });
});

describe('a loop laid another way', () => {
  const { input } = randomBed(24);
  const ground = bedParts(input).parts[0]!.routable[0]!;
  const across = { ...loopRequest(ground, input, 0, Math.PI / 4, 'quick'), mending: ['dented'] as const };

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

describe('a loop that does not hold however it is mended', () => {
  const { input } = randomBed(24);
  const ground = bedParts(input).parts[0]!.routable[0]!;
  const request = {
    ...loopRequest(ground, input, 0, null, 'finished'),
    mending: ['dented', 'bare'] as const,
  };

  it('is laid the next cheapest way, and that is mended', () => {
    const asked: string[] = [];
    const found = routeLoop(request, ({ key }) => {
      asked.push(key);
      return key !== asked[0];
    });
    expect(asked).toEqual([asked[0], asked[0], found.key]);
    expect(found.key).not.toBe(asked[0]);
  });

  it('comes back the cheapest way as it was laid where nothing holds', () => {
    const first = routeLoop({ ...request, mending: ['bare'] });
    expect(routeLoop(request, () => false).loops).toEqual(first.loops);
  });
});
