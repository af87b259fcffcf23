import { describe, expect, it } from 'vitest';
import { type DesignedBed, dryBetween, wettedGround } from '../../../src/core/design';
import { planWithSource, servedBed, smallBed, withBed } from '../supply/made';

const plan = withBed(planWithSource({ x: -3, y: -2 }), smallBed);
const served = servedBed(plan, smallBed);
const bed = (low: number, high: number): DesignedBed => ({
  id: 'bed-a',
  sourceBedId: 'bed-a',
  name: 'a',
  mark: 'A',
  choice: {
    bedId: 'bed-a',
    soil: 'loam',
    plants: 'moderate',
    sun: 'full-sun',
    dripline: served.dripline,
    rowSpacingM: 0.4572,
    rowStretchRatio: 0,
    intakeRateMs: 5e-6,
    wettedDiameterM: { low, high },
    reasons: [],
    traces: [],
  },
  runLimitM: 100,
  layout: served.layout,
  applicationRateMs: null,
  nominalApplicationRateMs: 5e-6,
  zoneId: null,
});

describe('the wetted ground of a laid bed', () => {
  it('has a circle for every emitter, and no gap along rows whose circles are wider than the emitters are apart', () => {
    const ground = wettedGround(bed(0.35, 0.76))!;
    expect(ground.emitters).toHaveLength(served.layout.runs[0]!.emittersM.length);
    // Emitters 0.305 m apart along the run: circles of 0.35 m meet along every row.
    expect(ground.narrow.along.shareRatio).toBe(1);
    // Rows some 0.4 m apart and half a spacing out of step: 0.35 m does not bridge them. A row counts as a neighbour up
    // to 1.6 spacings away, 0.73 m, so that 0.76 m bridges any.
    expect(ground.narrow.acrossWorstPhase.overlapCount).toBe(0);
    expect(ground.narrow.gaps.length).toBeGreaterThan(0);
    expect(ground.wide.gaps).toEqual([]);
  });

  it('is never drier by the wider model', () => {
    for (const [low, high] of [
      [0.3, 0.5],
      [0.45, 0.46],
      [0.2, 1],
    ] as const) {
      const ground = wettedGround(bed(low, high))!;
      expect(ground.wide.worstPhaseRatio).toBeGreaterThanOrEqual(ground.narrow.worstPhaseRatio);
      expect(ground.wide.driestM).toBeLessThanOrEqual(ground.narrow.driestM);
    }
  });

  it('draws what stays dry between two neighbours from edge to edge, and a mark where only the worst shift parts them', () => {
    const pair = { from: { x: 1, y: 2 }, to: { x: 2, y: 2 } };
    // Circles of 0.4 m round places 1 m apart leave 0.6 m from x = 1.2 to 1.8; of 1.1 m they meet: a mark half way.
    const [a, b] = dryBetween(pair, 0.4, 0.02);
    expect([a.x, b.x]).toEqual([expect.closeTo(1.2, 9), expect.closeTo(1.8, 9)]);
    const [c, d] = dryBetween(pair, 1.1, 0.02);
    expect([c.x, d.x]).toEqual([expect.closeTo(1.49, 9), expect.closeTo(1.51, 9)]);
  });

  it('is nothing where no emitter lies', () => {
    const dry = bed(0.3, 0.5);
    expect(wettedGround({ ...dry, layout: { ...dry.layout, runs: [] } })).toBeNull();
  });
});
