import { describe, expect, it } from 'vitest';
import { type LayoutInput, layoutBed } from '../../../src/core/layout';
import { bentSketch } from '../../../src/core/layout/bentLoop';
import { countBentRows } from '../../../src/core/layout/figures';
import { ribbonFrame } from '../../../src/core/layout/ribbonFrame';
import { plainInput } from '../../bench/bedFiles';

/** A ribbon along a wave, its width as asked along the way, every edge lawn with an offset of 3 in. */
function ribbon(widthM: (share: number) => number, lengthM = 14, waveM = 1): LayoutInput {
  const shares = Array.from({ length: 57 }, (_, i) => i / 56);
  const side = (way: 1 | -1) =>
    shares.map((share) => ({
      x: lengthM * share,
      y: waveM * Math.sin(2 * Math.PI * share) + (way * widthM(share)) / 2,
    }));
  const points = [...side(-1), ...side(1).reverse()];
  const edges = points.map(() => ({ class: 'lawn' as const, offsetM: 0.0762 }));
  return plainInput('ribbon', [{ points, edges }]);
}

const groundOf = (input: LayoutInput) => ({ outer: [...input.rings[0]!.points], holes: [] });

describe('a winding ribbon', () => {
  const even = ribbon(() => 1.8);
  const swelling = ribbon((share) => 1.8 + 0.25 * Math.sin(3 * share));

  it.each([
    ['of even width', even],
    ['that swells', swelling],
  ])('%s is laid with rows along its bends: few turns, nothing left dry', (_, input) => {
    const [part] = layoutBed(input);
    expect(part!.chosen).toBe('contour-bent');
    expect(part!.verified.failures).toEqual([]);
    const loop = part!.runs.find((run) => run.role === 'loop')!;
    expect(part!.runs.filter((run) => run.role === 'loop')).toHaveLength(1);
    expect(loop.path.at(-1)).toEqual(loop.path[0]);
    // Four rows 18 in apart fit 1.8 m less twice 3 in: two turns a row and two more is what a crew expects (routing targets).
    expect(loop.turns).toBeLessThanOrEqual(2 * 4 + 2);
    expect(part!.coverage.coveredRatio).toBeGreaterThan(0.995);
  });

  it('lies straight and equally wide in its frame', () => {
    const frame = ribbonFrame(groundOf(swelling), swelling.rowSpacingM)!;
    const points = groundOf(swelling).outer.map((point) => frame.toFrame(point));
    // The outline goes there along one side and comes back along the other, 57 points each; its ends are left out.
    const sides = [points.slice(8, 49), points.slice(57 + 8, 57 + 49)];
    for (const side of sides) {
      const heights = side.map(({ y }) => y);
      expect(Math.max(...heights) - Math.min(...heights)).toBeLessThan(0.06);
    }
    // Its width swells by 0.25 m, by its making: more than four times what is left of that in the frame.
    expect(sides[0]![0]!.y).not.toBeCloseTo(sides[1]![0]!.y, 0);
  });

  it('has rows that count as rows although they bend', () => {
    const [part] = layoutBed(even);
    expect(
      countBentRows(
        part!.runs.filter((run) => run.role === 'loop').map((run) => run.path),
        0.4572,
      ),
    ).toBe(4);
  });

  it('is laid straight where the designer sets the direction of rows', () => {
    expect(bentSketch(groundOf(even), { ...even, rowDirectionRad: 0 }, 'quick')).toBeNull();
  });

  it('is no ribbon where it hardly bends, is hardly longer than wide, or takes a single row', () => {
    expect(ribbonFrame(groundOf(ribbon(() => 1.8, 14, 0)), 0.4572)).toBeNull();
    expect(ribbonFrame(groundOf(ribbon(() => 4, 8, 1)), 0.4572)).toBeNull();
    expect(ribbonFrame(groundOf(ribbon(() => 0.45)), 0.4572)).toBeNull();
  });

  it('is one too where it bends once by 8 degrees, if that takes it far enough from straight', () => {
    const kinked = (riseM: number): LayoutInput =>
      plainInput('kinked', [
        {
          points: [
            { x: 0, y: 0 },
            { x: 10, y: 0 },
            { x: 20, y: riseM },
            { x: 20, y: riseM + 1.4 },
            { x: 10, y: 1.4 },
            { x: 0, y: 1.4 },
          ],
          edges: Array.from({ length: 6 }, () => ({ class: 'lawn' as const, offsetM: 0.0762 })),
        },
      ]);
    const [part] = layoutBed(kinked(1.4));
    expect(part!.chosen).toBe('contour-bent');
    expect(part!.coverage.coveredRatio).toBeGreaterThan(0.999);
    expect(part!.runs.reduce((turns, run) => turns + run.turns, 0)).toBeLessThanOrEqual(12);
    expect(ribbonFrame(groundOf(kinked(0.3)), 0.4572)).toBeNull();
  });
});
