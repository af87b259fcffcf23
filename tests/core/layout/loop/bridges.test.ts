import { describe, expect, it } from 'vitest';
import {
  circlePoints,
  inflateRings,
  intersectRings,
  type Region,
  ringAreaM2,
} from '../../../../src/core/geometry';
import { layoutBed } from '../../../../src/core/layout';
import { wateringGoal } from '../../../../src/core/layout/goal';
import { leastSeparationM, routeLoop } from '../../../../src/core/layout/loop';
import { bridgesOnSide, crossingsOf } from '../../../../src/core/layout/loop/bridges';
import { cutComb } from '../../../../src/core/layout/loop/teeth';
import { bedParts } from '../../../../src/core/layout/parts';
import { randomBed } from '../../../bench/randomBeds';
import { shapedBeds } from '../../../bench/shapedBeds';

const SPACING_M = 0.3048;
const LEAST_M = 0.254;

/** A rectangle of ground with a trunk in it whose middle lies in a row's band and which reaches into the gaps on both sides. */
function groundRoundTrunk(trunkAtX: number, trunkAtY: number): Region {
  const outer = [
    { x: 0, y: 0 },
    { x: 6, y: 0 },
    { x: 6, y: 3.3528 },
    { x: 0, y: 3.3528 },
  ];
  return [outer, [...circlePoints({ x: trunkAtX, y: trunkAtY }, 0.5)].reverse()];
}

describe('bridges between rows', () => {
  it('join two teeth and touch no third, also where a trunk cuts a row in two', () => {
    const levels = Array.from({ length: 12 }, (_, k) => k * SPACING_M);
    const trunks = [1.2, 2.1, 3, 4.4].flatMap((x) => [0.9, 1.4, 1.7, 2.2].map((y) => [x, y] as const));
    let seen = 0;
    for (const [x, y] of trunks) {
      const comb = cutComb(groundRoundTrunk(x, y), levels, LEAST_M);
      const bridges = bridgesOnSide(
        crossingsOf(comb, { spacingM: SPACING_M, minSeparationM: LEAST_M }),
        'left',
      );
      for (const bridge of bridges) {
        const widened = inflateRings(bridge.region, 0.01);
        const touched = comb.teeth
          .filter((tooth) => intersectRings([tooth.outer], widened).some((ring) => ringAreaM2(ring) > 1e-6))
          .map((tooth) => tooth.index);
        expect(touched).toEqual([bridge.lower, bridge.upper].sort((a, b) => a - b));
        seen++;
      }
    }
    expect(seen).toBeGreaterThan(trunks.length * 8);
  });

  it('close no row in between two trunks: a bed with three trunks leaves no dry stripe', () => {
    const { input } = randomBed(23);
    const [part] = bedParts(input).parts;
    const found = routeLoop({
      usable: part!.usable,
      routable: part!.routable,
      rowSpacingM: input.rowSpacingM,
      directionRad: null,
      minSeparationM: leastSeparationM(input.rowSpacingM, input.bendRadiusM),
      bendRadiusM: input.bendRadiusM,
      stubUp: input.stubUp,
      slope: null,
      maxLoopLengthM: null,
      quality: 'finished',
      goal: wateringGoal(input),
      memory: null,
    });
    const dryM2 = found.defects().map((defect) => defect.areaM2 ?? 0);
    // A row closed in leaves a stripe as long as the bed: 3 m2 and more. The tails at its corners are smaller than 0.5 m2.
    expect(Math.max(...dryM2)).toBeLessThan(0.5);
  });

  it('tie the points of a star back on where they tore off at their necks', () => {
    const star = shapedBeds().find((bed) => bed.name === 'star-of-seven')!;
    const [layout] = layoutBed(star.input);
    expect(layout?.verified.passed).toBe(true);
    expect(layout?.coverage.coveredRatio).toBeGreaterThan(0.985);
  }, 60_000);
});
