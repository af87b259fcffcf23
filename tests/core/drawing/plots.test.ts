import { describe, expect, it } from 'vitest';
import type { DrawingItem } from '../../../src/core/drawing';
import { longestRunProfile, runItems, supplyItems } from '../../../src/core/drawing/plotsPressure';
import { seasonItems, sectionItems } from '../../../src/core/drawing/plotsWater';

const rect = { x: 10, y: 20, widthMm: 160, heightMm: 40 };
const PSI = 0.70306957964;
const GPM = 0.003785411784 / 60;

/** Every place an item puts ink, roughly. */
function places(items: readonly DrawingItem[]): readonly (readonly [number, number])[] {
  return items.flatMap((item) => {
    if (item.kind === 'text') return [[item.at.x, item.at.y] as const];
    if (item.kind !== 'path') return [];
    return item.steps.flatMap((step) =>
      step[0] === 'M' || step[0] === 'L' ? [[step[1], step[2]] as const] : [],
    );
  });
}
function expectInside(items: readonly DrawingItem[]): void {
  for (const [x, y] of places(items)) {
    expect(Number.isFinite(x) && Number.isFinite(y)).toBe(true);
    expect(x).toBeGreaterThanOrEqual(rect.x - 1);
    expect(x).toBeLessThanOrEqual(rect.x + rect.widthMm + 1);
    expect(y).toBeGreaterThanOrEqual(rect.y - 1);
    expect(y).toBeLessThanOrEqual(rect.y + rect.heightMm + 1);
  }
}
const emitters = {
  x: new Float64Array(4),
  y: new Float64Array(4),
  run: Int32Array.from([0, 1, 1, 1]),
  distanceM: Float64Array.from([1, 3, 1, 2]),
  headM: Float64Array.from([20, 16, 18, 15]),
  flowM3s: new Float64Array(4),
  runIds: ['a', 'b'],
};

describe('plots of the calculations sheet', () => {
  it('the pressure profile takes the run with most emitters, in the order of the run', () => {
    const profile = longestRunProfile({ emitters });
    expect(profile?.runId).toBe('b');
    expect(profile?.points.map((point) => point.headM)).toEqual([18, 15, 16]);
  });

  it('the pressure plot stays in its rectangle and marks the lowest emitter where it lies', () => {
    const profile = longestRunProfile({ emitters });
    if (profile === undefined) throw new Error('no profile');
    const items = runItems(profile, 10 * PSI, 'us', rect);
    expectInside(items);
    const line = items.filter((item) => item.kind === 'path' && item.fill === undefined).at(-1);
    const square = items.at(-1);
    if (line?.kind !== 'path' || square?.kind !== 'path') throw new Error('no line');
    const [, second] = places([line]);
    const corners = places([square]);
    const middle = corners.reduce((sum, [x]) => sum + x / corners.length, 0);
    expect(middle).toBeCloseTo(second?.[0] ?? 0, 6);
  });

  it('the supply plot gives zones that stand together one figure, so that no figure lies on another', () => {
    const zone = (number: number, gpm: number, psi: number) => ({
      number,
      flowM3s: gpm * GPM,
      requiredSourceHeadM: psi * PSI,
      availableSourceHeadM: 55 * PSI,
    });
    const items = supplyItems(
      {
        sourceCurve: [
          { flowM3s: 0, headM: 60 * PSI },
          { flowM3s: 15 * GPM, headM: 30 * PSI },
        ],
        usableFlowM3s: 7.5 * GPM,
        zones: [zone(1, 4, 37), zone(2, 3.95, 36), zone(3, 0.8, 27)],
      },
      'us',
      rect,
    );
    expectInside(items);
    const said = items.flatMap((item) => (item.kind === 'text' ? [item.text] : []));
    expect(said).toContain('1, 2');
    expect(said).toContain('3');
    // 7.5 gpm on an axis that ends at a whole 16: 7.5/16 of its 146 mm along.
    const dashed = items.filter((item) => item.kind === 'path' && item.stroke?.dashMm !== undefined);
    expect(dashed).toHaveLength(1);
    const [x] = places(dashed)[0]!;
    expect(x).toBeCloseTo(rect.x + 11 + (146 * 7.5) / 16, 6);
    // Each zone's open square stands at its flow: 4 of 15 gpm lies 4/15 along the axis, above what it needs.
    const open = items.filter((item) => item.kind === 'path' && item.fill === 'leaf');
    const full = items.filter((item) => item.kind === 'path' && item.fill === 'ink');
    expect(open).toHaveLength(3);
    open.forEach((square, index) => {
      const [at] = places([square]);
      const [needed] = places([full[index]!]);
      expect(at?.[0]).toBeCloseTo(needed?.[0] ?? 0, 6);
      expect(at?.[1] ?? 0).toBeLessThan(needed?.[1] ?? 0);
    });
  });

  it('the season has twelve bars as high as the depths they show', () => {
    const months = Array.from({ length: 12 }, (_, index) => ({
      month: index + 1,
      needM: 0.05,
      grossM: 0.01 * (index + 1),
      appliedM: 0.01 * (index + 1),
      exactMinutesPerDay: 1,
      minutesPerDay: 1,
      daysPerWeek: 1,
      wantedDaysPerWeek: 1,
      cycles: 1,
      minutesPerCycle: 1,
      soakMinutes: 0,
      intervalDays: 7,
      wantsMoreThanDaily: false,
      runLimitS: null,
      seasonalRatio: 1,
    }));
    const zone = {
      zoneId: 'z',
      flowM3s: 1e-4,
      areaM2: 10,
      applicationRateMs: 3e-6,
      governingBedId: 'b',
      months,
      establishment: [],
      traces: [],
    };
    const items = seasonItems(zone, 'metric', rect);
    expectInside(items);
    const bars = items.filter((item) => item.kind === 'path' && item.fill === 'water-wash');
    const heights = bars.map((bar) => {
      const ys = places([bar]).map(([, y]) => y);
      return Math.max(...ys) - Math.min(...ys);
    });
    expect(heights.length).toBe(12);
    expect((heights[11] ?? 0) / (heights[5] ?? 1)).toBeCloseTo(2, 6);
  });

  it('the section of wetted ground fits its rectangle in sand and in clay', () => {
    for (const soil of ['sand', 'clay'] as const) {
      const choice = { soil, dripline: { emitterFlowM3s: 4e-7 } };
      const bed = { choice, layout: { rowSpacingM: 0.4572 } } as Parameters<typeof sectionItems>[0];
      expectInside(sectionItems(bed, rect, (m) => `${Math.round(m * 1000)} mm`));
    }
  });
});
