import { describe, expect, it } from 'vitest';
import { layoutBed } from '../../../src/core/layout';
import { randomBed } from '../../bench/randomBeds';

/** A ribbon with a boulder so near its end that no loop passes between boulder and edge: 12 in rows, bends of 3.6 in. */
const { input } = randomBed(32);
const ribbon = { ...input, bendRadiusM: 0.3 * input.rowSpacingM };

describe('ground that only a single run reaches', () => {
  const [part] = layoutBed(ribbon);

  it('gets one row on a tee, ended with a cap, and is not left dry', () => {
    const spurs = part!.runs.filter((run) => run.role === 'single-row');
    expect(spurs.length).toBeGreaterThan(0);
    expect(part!.joins.filter((join) => join.fitting === 'end-cap').length).toBeGreaterThanOrEqual(
      spurs.length,
    );
    // Without the row the far side of the boulder lies 2.7 row spacings and more from all tubing.
    expect(part!.coverage.maxGapM).toBeLessThan(input.rowSpacingM);
  });

  it('gets it only as far off other tubing as two runs must lie', () => {
    expect(part!.verified.failures).toEqual([]);
    expect(part!.verified.separationM).toBeGreaterThan(0.6 * input.rowSpacingM - 0.002);
  });
});
