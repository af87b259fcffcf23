import { describe, expect, it } from 'vitest';
import { printMeasure, readMeasure } from '../../../src/app/state/read';
import { faultOfUsual, USUAL_FIGURES, type UsualFigure, usualFiguresOf } from '../../../src/app/usualFigures';
import { DEFAULTS } from '../../../src/core/catalog';
import { printer } from '../../../src/core/units';

const PAGES = Object.keys(USUAL_FIGURES) as (keyof typeof USUAL_FIGURES)[];
const ALL: readonly UsualFigure[] = Object.values(USUAL_FIGURES).flat();

describe('the usual figures at the desk', () => {
  it('are every default of the job, each on one page', () => {
    expect(ALL.map(([key]) => key).sort()).toEqual(Object.keys(DEFAULTS).sort());
  });

  it('read back as they are printed, in both systems, and each may stand', () => {
    for (const system of ['us', 'metric'] as const) {
      const print = printer(system);
      for (const [key, name, measure] of PAGES.flatMap((page) => usualFiguresOf(page, system))) {
        const { value } = DEFAULTS[key];
        const shown = printMeasure(measure, value, print);
        const read = readMeasure(measure, shown, system);
        if (!read.ok) throw new Error(`${name}: ${shown} is not read`);
        // Printed to the digits a person needs: 18 in are 46 cm, 5 ft/s are 1.52 m/s.
        expect(Math.abs(read.value - value), `${name}: ${shown}`).toBeLessThan(0.035 * value + 1e-9);
        expect(faultOfUsual(key, value), name).toBeNull();
      }
    }
  });

  it('are those of the plan’s own system', () => {
    const keys = usualFiguresOf('tubing', 'us').map(([key]) => key);
    expect(keys).toContain('rowRoundingUsM');
    expect(keys).not.toContain('rowRoundingMetricM');
  });

  it('are refused where they cannot be', () => {
    expect(faultOfUsual('glueWeldsPerCan', 0)).toContain('more than nothing');
    expect(faultOfUsual('offsetOpenM', 0)).toBeNull();
    expect(faultOfUsual('headerDepthM', -0.1)).toContain('less than nothing');
    expect(faultOfUsual('coverageWantedRatio', 1.2)).toContain('whole');
    expect(faultOfUsual('steepSlopeRatio', 1.2)).toBeNull();
  });

  it('are read with their own units: a speed, a warmth, hours along a trench', () => {
    const read = (...given: Parameters<typeof readMeasure>) => {
      const outcome = readMeasure(...given);
      return outcome.ok ? outcome.value : null;
    };
    expect(read('velocity', '4', 'us')).toBeCloseTo(4 * 0.3048, 9);
    expect(read('velocity', '1.2 m/s', 'us')).toBeCloseTo(1.2, 9);
    expect(read('temperature', '68', 'us')).toBeCloseTo(293.15, 9);
    expect(read('temperature', '20', 'metric')).toBeCloseTo(293.15, 9);
    // A unit that is written outranks the plan's own.
    expect(read('temperature', '20 °C', 'us')).toBeCloseTo(293.15, 9);
    expect(read('hours-along', '3 h/100 m', 'us')).toBeCloseTo(0.03, 9);
    // 3 hours for 100 ft are 3 / 30.48 hours a metre.
    expect(read('hours-along', '3', 'us')).toBeCloseTo(3 / 30.48, 9);
    expect(read('hours-along', '3 h/100 m', 'metric')).toBeCloseTo(0.03, 9);
    expect(read('hours-along', 'three', 'us')).toBeNull();
    expect(read('hours', '1.5 h', 'us')).toBe(1.5);
  });
});
