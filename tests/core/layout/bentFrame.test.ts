import { describe, expect, it } from 'vitest';
import { bentFrame } from '../../../src/core/layout/bentFrame';

/** A quarter of a circle about the origin, anticlockwise from east, its radius in metres. */
const RADIUS_M = 5;
const quarter = Array.from({ length: 46 }, (_, i) => {
  const angle = (i * Math.PI) / 90;
  return { x: RADIUS_M * Math.cos(angle), y: RADIUS_M * Math.sin(angle) };
});
const atRadius = (radiusM: number, angle: number) => ({
  x: radiusM * Math.cos(angle),
  y: radiusM * Math.sin(angle),
});

describe('a frame along a bending line', () => {
  const frame = bentFrame(quarter, 1.5, 3);

  it('brings every place back to where it was', () => {
    for (const radiusM of [3.8, 4.5, 5, 5.6, 6.2])
      for (const angle of [0.2, 0.6, 0.9, 1.3]) {
        const place = atRadius(radiusM, angle);
        const back = frame.toPlan(frame.toFrame(place));
        expect(Math.hypot(back.x - place.x, back.y - place.y)).toBeLessThan(1e-4);
      }
  });

  it('keeps lengths across the line: by geometry, the distance to the circle, inside it to the left', () => {
    // Rounding the line's corners draws it in by its window squared over 24 radii, twice: 9 mm here.
    for (const radiusM of [4, 4.6, 5.4, 6])
      expect(Math.abs(frame.toFrame(atRadius(radiusM, 0.8)).y - (RADIUS_M - radiusM))).toBeLessThan(0.02);
  });

  it('says how lengths along the line shrink inside the bend and grow outside it: by geometry, radius over radius', () => {
    for (const radiusM of [4, 5, 6]) {
      const place = frame.toFrame(atRadius(radiusM, 0.8));
      expect(frame.alongRatio(place)).toBeCloseTo(radiusM / RADIUS_M, 1);
    }
  });

  it('runs straight on past both ends of the line', () => {
    const [one, other] = [frame.toPlan({ x: 0.5, y: 0 }), frame.toPlan({ x: 1.5, y: 0 })];
    expect(Math.hypot(other.x - one.x, other.y - one.y)).toBeCloseTo(1, 3);
  });
});
