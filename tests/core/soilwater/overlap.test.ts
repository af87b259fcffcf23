import { describe, expect, it } from 'vitest';
import { wettedOverlap } from '../../../src/core/soilwater';

/** Rows of emitters on one loop going back and forth, each row shifted by `shift` of the spacing. */
function rows(count: number, perRow: number, rowM: number, emitterM: number, shift: number) {
  const x: number[] = [];
  const y: number[] = [];
  const run: number[] = [];
  for (let row = 0; row < count; row += 1)
    for (let place = 0; place < perRow; place += 1) {
      const along = row % 2 === 0 ? place : perRow - 1 - place;
      x.push((along + (row % 2) * shift) * emitterM);
      y.push(row * rowM);
      run.push(0);
    }
  return { x, y, run };
}

describe('wetted overlap on a laid route', () => {
  it('rows at 0.4 m and emitters at 0.3 m with 0.45 m circles meet along and across, even at the worst shift', () => {
    const found = wettedOverlap({
      emitters: rows(5, 10, 0.4, 0.3, 0),
      wettedDiameterM: 0.45,
      rowSpacingM: 0.4,
      emitterSpacingM: 0.3,
    });
    // By hand: along (0.45 - 0.4)/0.45 at the turns, else 0.333; across worst sqrt(0.16 + 0.0225) = 0.4272.
    expect(found.along.shareRatio).toBe(1);
    expect(found.acrossWorstPhase.leastRatio).toBeCloseTo((0.45 - Math.hypot(0.4, 0.15)) / 0.45, 9);
    expect(found.worstPhaseRatio).toBe(1);
    // Driest ground of four emitters squarely placed: sqrt(0.2^2 + 0.15^2) = 0.25 from each, 0.025 beyond the circle.
    expect(found.driestM).toBeCloseTo(0.025, 9);
    expect(found.gaps).toEqual([]);
  });

  it('circles of 0.42 m meet as laid but not at the worst shift, and every such pair is given for drawing', () => {
    const found = wettedOverlap({
      emitters: rows(5, 10, 0.4, 0.3, 0),
      wettedDiameterM: 0.42,
      rowSpacingM: 0.4,
      emitterSpacingM: 0.3,
    });
    expect(found.acrossAsLaid.shareRatio).toBe(1);
    expect(found.acrossWorstPhase.overlapCount).toBe(0);
    expect(found.gaps.length).toBe(found.acrossWorstPhase.pairCount);
  });

  it('looks to both sides: a wide row on one side is not hidden by a close row on the other', () => {
    const line = (y: number) => Array.from({ length: 8 }, (_, place) => ({ x: place * 0.3, y }));
    const points = [...line(0), ...line(0.3), ...line(0.85)];
    const found = wettedOverlap({
      emitters: {
        x: points.map((point) => point.x),
        y: points.map((point) => point.y),
        run: points.map((_, index) => Math.floor(index / 8)),
      },
      wettedDiameterM: 0.4,
      rowSpacingM: 0.45,
      emitterSpacingM: 0.3,
    });
    expect(found.gaps.some((pair) => pair.from.y === 0.3 && pair.to.y === 0.85)).toBe(true);
    expect(found.gaps.some((pair) => pair.from.y === 0 && pair.to.y === 0.3)).toBe(false);
  });

  it('one row alone has no row beside it, and nothing between rows is dry', () => {
    const found = wettedOverlap({
      emitters: rows(1, 6, 0.4, 0.3, 0),
      wettedDiameterM: 0.35,
      rowSpacingM: 0.4,
      emitterSpacingM: 0.3,
    });
    expect(found.acrossAsLaid.pairCount).toBe(0);
    expect(found.acrossAsLaid.shareRatio).toBe(1);
    expect(found.driestM).toBe(0);
    expect(found.along.pairCount).toBe(5);
  });

  it('gaps along the row are found where a plain piece parts two emitters', () => {
    const found = wettedOverlap({
      emitters: { x: [0, 0.3, 1.2, 1.5], y: [0, 0, 0, 0], run: [0, 0, 0, 0] },
      wettedDiameterM: 0.35,
      rowSpacingM: 0.4,
      emitterSpacingM: 0.3,
    });
    expect(found.along.overlapCount).toBe(2);
    expect(found.gaps.map((pair) => [pair.from.x, pair.to.x])).toEqual([[0.3, 1.2]]);
  });

  it('no emitter at all is no fault', () => {
    const found = wettedOverlap({
      emitters: { x: [], y: [], run: [] },
      wettedDiameterM: 0.35,
      rowSpacingM: 0.4,
      emitterSpacingM: 0.3,
    });
    expect(found.worstPhaseRatio).toBe(1);
  });
});
