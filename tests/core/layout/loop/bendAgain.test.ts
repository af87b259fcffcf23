import { describe, expect, it } from 'vitest';
import { closeRing, polylineLengthM, type Ring, ringAreaM2, uniteRings } from '../../../../src/core/geometry';
import { bendAgain, shapeOutline } from '../../../../src/core/layout/loop/shape';
import { measureBends } from '../../../../src/core/layout/verification/bends';

const BEND_M = 0.13;
const LEAST_M = 0.37;
const box = (minX: number, minY: number, maxX: number, maxY: number): Ring => [
  { x: minX, y: minY },
  { x: maxX, y: minY },
  { x: maxX, y: maxY },
  { x: minX, y: maxY },
];
const GROUND = [box(0, 0, 6, 3)];
/** The program's own measure of bends: circles through points along the tube. */
function tightestM(ring: Ring): number {
  const path = closeRing(ring);
  const run = { id: 'loop', role: 'loop' as const, closed: true, path, lengthM: polylineLengthM(path) };
  return measureBends(run as Parameters<typeof measureBends>[0], BEND_M).minRadiusM;
}
const first = shapeOutline(box(0, 0, 6, 3), GROUND, BEND_M, LEAST_M)!.ring;

describe('an outline bent again after it was moved', () => {
  it('is what it was where it was not moved', () => {
    const again = bendAgain(first, GROUND, BEND_M, LEAST_M)!;
    expect(again.lost).toEqual([]);
    // Chords stray at most half a millimetre, along 18 m.
    expect(Math.abs(ringAreaM2(again.ring) - ringAreaM2(first))).toBeLessThan(18 * 5e-4);
    expect(tightestM(again.ring)).toBeGreaterThan(0.95 * BEND_M);
  });

  it('has a bend, no sharp corner, where it was moved beyond the ground', () => {
    // A bump over the edge, cut off by it: 0.3 m wide, its sides square to the edge.
    const over = uniteRings([first, box(5.7, 1, 6.4, 1.9)]).find(() => true)!;
    const again = bendAgain(over, GROUND, BEND_M, LEAST_M)!;
    for (const { x, y } of again.ring) {
      expect(x).toBeLessThanOrEqual(6 + 1e-6);
      expect(y).toBeGreaterThanOrEqual(-1e-6);
    }
    expect(tightestM(again.ring)).toBeGreaterThan(0.95 * BEND_M);
  });

  it('keeps its bends beside a corner of the ground that the first bending would have grown over', () => {
    // The ground ends aslant, a bend's width from the corner: sharpened, the corner would reach over that edge.
    const cut: Ring = [
      { x: 0, y: 0 },
      { x: 6, y: 0 },
      { x: 6, y: 2.8 },
      { x: 5.8, y: 3 },
      { x: 0, y: 3 },
    ];
    const bent = shapeOutline(cut, [cut], BEND_M, LEAST_M)!.ring;
    const again = bendAgain(bent, [cut], BEND_M, LEAST_M)!;
    expect(tightestM(again.ring)).toBeGreaterThan(0.95 * BEND_M);
    expect(ringAreaM2(again.ring)).toBeGreaterThan(ringAreaM2(bent) - 18 * 5e-4);
  });

  it('is none where what was moved tears it from itself into nothing', () => {
    expect(bendAgain(box(0, 0, 3, 0.1), GROUND, BEND_M, LEAST_M)).toBeNull();
  });
});
