import { describe, expect, test } from 'vitest';
import { DryGuess } from '../../../../src/core/layout/loop/dryGuess';

const SPACING_M = 0.4;
const LEAST_M = 0.24;
const box = (minX: number, minY: number, maxX: number, maxY: number) => [
  { x: minX, y: minY },
  { x: maxX, y: minY },
  { x: maxX, y: maxY },
  { x: minX, y: maxY },
];
const guess = (ground: { x: number; y: number }[][]) => new DryGuess(ground, SPACING_M, LEAST_M);

describe('ground that rows would leave dry, guessed from their heights', () => {
  test('is none where rows lie evenly on a rectangle', () => {
    expect(guess([box(0, 0, 10, 2)]).dryM2([0, 0.4, 0.8, 1.2, 1.6, 2])).toBe(0);
  });

  test('is the stripe between rows too far apart', () => {
    // Rows 0.8 m apart water 0.22 m each: 0.36 m stay dry along 10 m. By hand, to a height of the grid at each side.
    const dryM2 = guess([box(0, 0, 10, 1.6)]).dryM2([0, 0.4, 1.2, 1.6]);
    expect(Math.abs(dryM2 - 3.6)).toBeLessThan(10 * 2 * 0.04);
  });

  test('is the stripe under a shoulder that lies between two rows', () => {
    // Left of x = 5 the ground begins at 0.46: the row at 0.4 is not there, that at 0.8 waters from 0.58 up. By hand: 5 m x 0.12 m,
    // to a height of the grid.
    const stepped = [
      { x: 5, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 1.2 },
      { x: 0, y: 1.2 },
      { x: 0, y: 0.46 },
      { x: 5, y: 0.46 },
    ];
    const dryM2 = guess([stepped]).dryM2([0, 0.4, 0.8, 1.2]);
    expect(dryM2).toBeGreaterThan(0.35);
    expect(dryM2).toBeLessThan(0.85);
  });

  test('is a quarter of the tooth that the ground leaves too thin for two runs', () => {
    // Left of x = 5 the ground begins at 0.2: a tooth from 0 to 0.4 would be 0.2 m thick there, thinner than 0.24; the next row,
    // at 0.8, waters from 0.58 up. By hand: 5 m x 0.38 m, less what the tooth's end waters beside it;
    // a quarter of it counts, for it takes a spur.
    const stepped = [
      { x: 5, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 1.2 },
      { x: 0, y: 1.2 },
      { x: 0, y: 0.2 },
      { x: 5, y: 0.2 },
    ];
    const dryM2 = guess([stepped]).dryM2([0, 0.4, 0.8, 1.2]);
    expect(dryM2).toBeGreaterThan(1.5 / 4);
    expect(dryM2).toBeLessThan(1.95 / 4);
  });

  test('is none round a boulder that two rows pass on both sides', () => {
    const boulder = [...box(4.9, 0.1, 5.1, 0.3)].reverse();
    expect(guess([box(0, 0, 10, 1.2), boulder]).dryM2([0, 0.4, 0.8, 1.2])).toBe(0);
  });
});
