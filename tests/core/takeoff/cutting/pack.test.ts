import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Packing, packPieces } from '../../../../src/core/takeoff/cutting/pack';

interface Instance {
  readonly name: string;
  readonly source: string;
  readonly roll: number;
  readonly pieces: readonly number[];
  readonly leastRolls: number;
}
const file = new URL('../../../reference/cutting/instances.json', import.meta.url);
const instances: readonly Instance[] = JSON.parse(readFileSync(file, 'utf8')).instances;

/** Every piece once, no roll overfull, what is said to be bought is bought. */
function expectSound(packing: Packing, pieces: readonly number[], rolls: readonly number[]): void {
  expect(packing.rolls.flatMap((roll) => roll.pieces).sort((a, b) => a - b)).toEqual(pieces.map((_, i) => i));
  for (const roll of packing.rolls) {
    expect(rolls).toContain(roll.lengthMm);
    expect(roll.pieces.reduce((sum, piece) => sum + pieces[piece]!, 0)).toBeLessThanOrEqual(roll.lengthMm);
  }
  expect(packing.boughtMm).toBe(packing.rolls.reduce((sum, roll) => sum + roll.lengthMm, 0));
  expect(packing.leastMm).toBeLessThanOrEqual(packing.boughtMm);
}

/** Least length by trying every way to put the pieces together: no cleverness, so no shared mistake. */
function leastByTrying(pieces: readonly number[], rolls: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY;
  const groups: number[] = [];
  const place = (at: number): void => {
    if (at === pieces.length) {
      const bought = groups.map((used) => rolls.find((roll) => roll >= used) ?? Number.POSITIVE_INFINITY);
      least = Math.min(
        least,
        bought.reduce((sum, roll) => sum + roll, 0),
      );
      return;
    }
    for (let g = 0; g < groups.length; g++) {
      groups[g]! += pieces[at]!;
      if (groups[g]! <= rolls.at(-1)!) place(at + 1);
      groups[g]! -= pieces[at]!;
    }
    groups.push(pieces[at]!);
    place(at + 1);
    groups.pop();
  };
  place(0);
  return least;
}

describe('rolls for pieces', () => {
  it.each(instances)(
    '$name reaches its known optimum of $leastRolls rolls',
    ({ roll, pieces, leastRolls }) => {
      const packing = packPieces(pieces, [roll]);
      expectSound(packing, pieces, [roll]);
      expect(packing.rolls).toHaveLength(leastRolls);
      expect(packing.isProven).toBe(true);
    },
  );

  it('of a hundred different lengths are bettered without a search, near the bound that no choice can beat', () => {
    const rolls = [30_480, 76_200, 152_400, 304_800];
    const pieces = Array.from({ length: 100 }, (_, i) => 5_000 + ((i * 7_919) % 90_000));
    const packing = packPieces(pieces, rolls);
    expectSound(packing, pieces, rolls);
    // Rolls come in steps of 50 ft; the pieces together are the least that can be bought. Near: 2 %, ours.
    expect(packing.leastMm).toBeGreaterThanOrEqual(pieces.reduce((sum, piece) => sum + piece, 0));
    expect(packing.boughtMm / packing.leastMm).toBeLessThan(1.02);
  });

  it('are never more than the least by trying every way', () => {
    // Rolls of 100, 250, 500 and 1000 ft in mm, exact.
    const rolls = [30_480, 76_200, 152_400, 304_800];
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 2_000, max: 300_000 }), { minLength: 1, maxLength: 6 }),
        (pieces) => {
          const packing = packPieces(pieces, rolls);
          expectSound(packing, pieces, rolls);
          expect(packing.boughtMm).toBe(leastByTrying(pieces, rolls));
          expect(packing.isProven).toBe(true);
        },
      ),
      { numRuns: 40, seed: 7 },
    );
  });

  it('for thirty loops of a large site come within two short rolls of the proven least', () => {
    const rolls = [30_480, 76_200, 152_400, 304_800];
    const pieces = Array.from({ length: 30 }, (_, i) => 20_000 + ((i * 7919) % 97) * 1_000);
    const packing = packPieces(pieces, rolls);
    expectSound(packing, pieces, rolls);
    expect(packing.boughtMm - packing.leastMm).toBeLessThanOrEqual(2 * 30_480);
  });

  /** Rolls of 1000 ft cut into pieces at places drawn by a seeded generator: the least is known, nothing is left over. */
  const sawn = (rollCount: number, piecesEach: number, seed: number): number[] =>
    fc
      .sample(
        fc.uniqueArray(fc.integer({ min: 5, max: 299 }), {
          minLength: piecesEach - 1,
          maxLength: piecesEach - 1,
        }),
        { numRuns: rollCount, seed },
      )
      .flatMap((places) => {
        const ends = [...places.map((m) => m * 1_000), 304_800].sort((a, b) => a - b);
        return ends.map((end, i) => end - (ends[i - 1] ?? 0));
      });

  it('sawn out of three whole rolls go back into them, and that is proven', () => {
    const rolls = [30_480, 76_200, 152_400, 304_800];
    for (const seed of [1, 2, 3]) {
      const packing = packPieces(sawn(3, 5, seed), rolls);
      expect(packing.boughtMm).toBe(3 * 304_800);
      expect(packing.isProven).toBe(true);
    }
  });

  it('sawn out of six whole rolls take at most one short roll more than those', () => {
    const rolls = [30_480, 76_200, 152_400, 304_800];
    for (const seed of [4, 5]) {
      const pieces = sawn(6, 4, seed);
      const packing = packPieces(pieces, rolls);
      expectSound(packing, pieces, rolls);
      expect(packing.leastMm).toBeLessThanOrEqual(6 * 304_800);
      expect(packing.boughtMm).toBeLessThanOrEqual(6 * 304_800 + 30_480);
    }
  });
});
