import { describe, expect, test } from 'vitest';
import { dryPatches, samplesOf } from '../../../../src/core/layout/loop/defects';
import { repairLoop } from '../../../../src/core/layout/loop/repair';

const SPACING_M = 0.5;
const ring = (minX: number, minY: number, maxX: number, maxY: number) => [
  { x: minX, y: minY },
  { x: maxX, y: minY },
  { x: maxX, y: maxY },
  { x: minX, y: maxY },
];
/** Ground 20 m long whose right end is a nose beyond the loop. */
const GROUND = [
  [
    { x: 0, y: 0 },
    { x: 20, y: 0 },
    { x: 20.6, y: 0.25 },
    { x: 20, y: 0.5 },
    { x: 0, y: 0.5 },
  ],
];
const LOOP = ring(0, 0, 20, 0.5);

describe('dry patches', () => {
  test('the nose of a bed is one patch, furthest from tubing at its very point', () => {
    const patches = dryPatches([LOOP], samplesOf(GROUND, SPACING_M), SPACING_M);
    expect(patches).toHaveLength(1);
    expect(patches[0]!.at).toEqual({ x: 20.6, y: 0.25 });
    expect(patches[0]!.distanceM).toBeCloseTo(0.6, 9);
  });

  test('no ground is dry within 0.55 of a spacing', () => {
    expect(dryPatches([LOOP], samplesOf([LOOP], SPACING_M), SPACING_M)).toEqual([]);
  });

  test('dry ground in two places is two patches, the larger first', () => {
    const ground = [ring(0, -1, 20, 0.5), ring(0, 3, 5, 4)];
    const patches = dryPatches([LOOP], samplesOf(ground, SPACING_M), SPACING_M);
    expect(patches).toHaveLength(2);
    expect(patches[0]!.areaM2).toBeGreaterThan(patches[1]!.areaM2);
    // By hand: 20 m x (1 - 0.275) m and 5 x 1 m, to a grid step of 0.05 m.
    expect(patches[0]!.areaM2).toBeCloseTo(14.5, 0);
    expect(patches[1]!.areaM2).toBeCloseTo(5, 0);
  });
});

describe('pulling a row towards dry ground', () => {
  const dry = dryPatches([LOOP], samplesOf(GROUND, SPACING_M), SPACING_M);
  const limits = { ground: GROUND, spacingM: SPACING_M, minSeparationM: 0.3 };
  const mended = repairLoop(LOOP, { dry, close: [] }, limits);

  test('brings tubing nearer to the nose, and never off the ground', () => {
    const after = dryPatches([mended], samplesOf(GROUND, SPACING_M), SPACING_M);
    expect(after[0]?.distanceM ?? 0).toBeLessThan(0.6 - 0.1);
    for (const { x, y } of mended) {
      expect(y).toBeGreaterThanOrEqual(-1e-9);
      expect(y).toBeLessThanOrEqual(0.5 + 1e-9);
      expect(x).toBeLessThanOrEqual(20.6);
    }
  });

  test('leaves everything further than five spacings from the nose as straight as it was', () => {
    const away = mended.filter((point) => point.x < 20.6 - 5 * SPACING_M);
    expect(away).toEqual([
      { x: 0, y: 0 },
      { x: 0, y: 0.5 },
    ]);
  });

  test('a loop with nothing to mend is the very same loop', () => {
    expect(repairLoop(LOOP, { dry: [], close: [] }, limits)).toBe(LOOP);
  });
});
