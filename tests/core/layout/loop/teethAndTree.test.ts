import { describe, expect, it } from 'vitest';
import { circlePoints, ringAreaM2, ringLengthM } from '../../../../src/core/geometry';
import { type Bridge, bridgesOnSide, crossingsOf } from '../../../../src/core/layout/loop/bridges';
import { splitTree } from '../../../../src/core/layout/loop/split';
import { cutComb } from '../../../../src/core/layout/loop/teeth';
import { spanTeeth } from '../../../../src/core/layout/loop/tree';

const SPACING_M = 0.5;
const LEAST_M = 0.3;
const rectangle = (widthM: number, heightM: number) => [
  { x: 0, y: 0 },
  { x: widthM, y: 0 },
  { x: widthM, y: heightM },
  { x: 0, y: heightM },
];
const levelsUpTo = (count: number): number[] =>
  Array.from({ length: count }, (_, index) => index * SPACING_M);

describe('the teeth of a comb', () => {
  it('are the even bands between rows: ten rows on a rectangle make five teeth and four gaps, by hand', () => {
    const comb = cutComb([rectangle(6, 4.5)], levelsUpTo(10), LEAST_M);
    expect(comb.teeth).toHaveLength(5);
    expect(comb.gaps).toHaveLength(4);
    for (const tooth of comb.teeth) expect(ringAreaM2(tooth.outer)).toBeCloseTo(6 * SPACING_M, 2);
  });

  it('are two in a band that a trunk cuts through', () => {
    const trunk = [...circlePoints({ x: 3, y: 1.25 }, 0.8)].reverse();
    const comb = cutComb([rectangle(6, 4.5), trunk], levelsUpTo(10), LEAST_M);
    expect(comb.teeth.filter((tooth) => tooth.band === 2)).toHaveLength(2);
    expect(comb.teeth.filter((tooth) => tooth.band === 8)).toHaveLength(1);
  });

  it('end at a neck too thin for two runs', () => {
    const neck = [
      [0, 0],
      [4, 0],
      [4, 0.15],
      [5, 0.15],
      [5, 0],
      [9, 0],
      [9, 0.5],
      [5, 0.5],
      [5, 0.35],
      [4, 0.35],
      [4, 0.5],
      [0, 0.5],
    ].map(([x, y]) => ({ x: x!, y: y! }));
    expect(cutComb([neck], [0, SPACING_M], LEAST_M).teeth).toHaveLength(2);
  });
});

describe('the tree of a comb', () => {
  const comb = cutComb([rectangle(6, 4.5)], levelsUpTo(10), LEAST_M);
  const bridges = bridgesOnSide(crossingsOf(comb, { spacingM: SPACING_M, minSeparationM: LEAST_M }), 'left');
  const tree = spanTeeth(comb.teeth.length, bridges);

  it('joins all teeth by one bridge less than there are', () => {
    expect(tree.bridges).toHaveLength(4);
    expect(tree.groups).toEqual([[0, 1, 2, 3, 4]]);
  });

  it('takes the cheapest way: on hand-made costs the total of the least spanning tree', () => {
    // A square of four teeth with a diagonal; the least tree by hand is 1 + 2 + 3.
    const made = (
      [
        [0, 1, 1],
        [1, 2, 2],
        [2, 3, 3],
        [0, 2, 4],
        [0, 3, 5],
      ] as const
    ).map(([lower, upper, cost]) => ({ lower, upper, cost }) as Bridge);
    const least = spanTeeth(4, made);
    expect(least.bridges.reduce((sum, bridge) => sum + bridge.cost, 0)).toBe(6);
    const without = spanTeeth(4, made, (bridge) => bridge.cost !== 2);
    expect(without.bridges.map((bridge) => bridge.cost)).toEqual([1, 3, 4]);
  });

  it('is cut into as few loops as the limit asks, about equal', () => {
    const toothM = ringLengthM(comb.teeth[0]!.outer);
    for (const [limitTeeth, loops] of [
      [6, 1],
      [3.2, 2],
      [2.2, 3],
      [1.2, 5],
    ] as const) {
      const { tree: split } = splitTree(tree, comb.teeth, limitTeeth * toothM);
      expect(split.groups).toHaveLength(loops);
      const sizes = split.groups.map((group) => group.length);
      expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
      expect(split.bridges).toHaveLength(5 - loops);
    }
  });
});
