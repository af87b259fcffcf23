import { expect, test } from 'vitest';
import { type BedLayout, type LayoutInput, layoutBed } from '../../../src/core/layout';
import { sentenceOf } from '../../../src/core/words';
import { randomBed } from '../../bench/randomBeds';

const BEDS = 200;
/** Small beds, so that all of them take seconds; the bench routes large ones. */
const SIZE_RATIO = 0.3;

interface Point {
  readonly x: number;
  readonly y: number;
}
const area = (a: Point, b: Point, c: Point): number => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);

/** Tubing may touch where a fitting stands: ends there are rounded to the grid, to either side of the tubing they meet. */
const AT_FITTING_M = 0.002;

/** Every pair of chords of all tubing, one by one: how often two cross between their ends, fittings left out. */
function crossings(part: BedLayout): number {
  const chords = part.runs.flatMap((run) => run.path.slice(1).map((b, i) => [run.path[i]!, b] as const));
  let count = 0;
  chords.forEach(([a, b], i) => {
    for (const [c, d] of chords.slice(i + 1))
      if (area(a, b, c) * area(a, b, d) < -1e-12 && area(c, d, a) * area(c, d, b) < -1e-12) {
        const share = area(c, d, a) / (area(c, d, a) - area(c, d, b));
        const at = { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share };
        if (part.joins.every((join) => Math.hypot(join.x - at.x, join.y - at.y) > AT_FITTING_M)) count += 1;
      }
  });
  return count;
}

function worstClearanceM(part: BedLayout, input: LayoutInput): number {
  let worst = Number.POSITIVE_INFINITY;
  for (const run of part.runs.filter((each) => each.role !== 'lead'))
    for (const p of run.path)
      for (const ring of input.rings)
        ring.points.forEach((a, i) => {
          const b = ring.points[(i + 1) % ring.points.length]!;
          const dx = b.x - a.x;
          const dy = b.y - a.y;
          const t = Math.min(
            1,
            Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)),
          );
          worst = Math.min(
            worst,
            Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy) - ring.edges[i]!.offsetM,
          );
        });
  return worst;
}

test('two hundred random beds are laid soundly or refused by name', { timeout: 180_000 }, () => {
  for (let seed = 1; seed <= BEDS; seed += 1) {
    const bed = randomBed(seed, SIZE_RATIO);
    for (const part of layoutBed({ ...bed.input, quality: 'preview' })) {
      const said = `seed ${seed}, ${bed.family}`;
      if (part.status === 'refused') {
        const stop = part.problems.find((problem) => problem.severity === 'stop');
        expect(stop && sentenceOf(stop.code), said).not.toBeNull();
        expect(part.runs, said).toEqual([]);
        continue;
      }
      expect(part.verified.failures, said).toEqual([]);
      expect(crossings(part), said).toBe(0);
      expect(worstClearanceM(part, bed.input), said).toBeGreaterThan(-0.002);
      for (const run of part.runs.filter((each) => each.closed))
        expect(run.path.at(-1), said).toEqual(run.path[0]);
      expect(
        part.runs.every((run) => run.lengthM > 0 && Number.isFinite(run.lengthM)),
        said,
      ).toBe(true);
    }
  }
});
