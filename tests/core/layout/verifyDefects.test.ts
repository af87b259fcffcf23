import { describe, expect, test } from 'vitest';
import {
  type BedLayout,
  type LaidRun,
  type LayoutInput,
  type LayoutKind,
  layoutBed,
  type VerifyInput,
  verifyRuns,
} from '../../../src/core/layout';
import { plainInput, readBedFile } from '../../bench/bedFiles';
import { toChordM } from '../../bench/layoutFigures';

const BEDS = new URL('../../reference/beds/', import.meta.url).pathname;

interface Point {
  readonly x: number;
  readonly y: number;
}

const laid = (name: string, layout: LayoutKind | null = null): [LayoutInput, BedLayout] => {
  const file = readBedFile(`${BEDS}${name}.geojson`).input;
  const input = { ...file, layout, quality: layout ? ('finished' as const) : ('preview' as const) };
  return [input, layoutBed(input)[0]!];
};
const BED_NAMES = ['01-rect10x15ft', '05-T', '06-kidney', '11-triangle', '12-one-tree'] as const;
const LAID = BED_NAMES.map((name) => ({ name, bed: laid(name) }));
const CENTRE_ROW = laid('09-strip3x60ft');
const HEADERS = laid('01-rect10x15ft', 'laterals');

/** What the verifier finds where some runs are laid otherwise, or some fittings left out. */
function found([input, part]: [LayoutInput, BedLayout], change: Partial<VerifyInput>): readonly string[] {
  return verifyRuns({
    rings: input.rings,
    obstacles: input.obstacles,
    runs: part.runs,
    joins: part.joins,
    rowSpacingM: input.rowSpacingM,
    bendRadiusM: input.bendRadiusM,
    isFed: true,
    ...change,
  }).failures;
}
const withRun = (part: BedLayout, run: LaidRun, path: readonly Point[]): readonly LaidRun[] =>
  part.runs.map((each) => (each.id === run.id ? { ...run, path } : each));
const mainOf = (part: BedLayout): LaidRun => part.runs.find((run) => run.role === 'loop')!;

describe.each(LAID)('a sound route through $name', ({ bed }) => {
  const [input, part] = bed;
  const main = mainOf(part);

  test('passes as laid', () => {
    expect(found(bed, {})).toEqual([]);
  });

  test('pushed 3 mm past its offset toward an edge is found too near', () => {
    let nearest = { spareM: Number.POSITIVE_INFINITY, p: { x: 0, y: 0 }, toward: { x: 0, y: 0 } };
    for (const p of main.path)
      for (const ring of input.rings)
        ring.points.forEach((a, i) => {
          const b = ring.points[(i + 1) % ring.points.length]!;
          const spareM = toChordM(p, a, b) - ring.edges[i]!.offsetM;
          if (spareM >= nearest.spareM || Math.hypot(b.x - a.x, b.y - a.y) < 1e-6) return;
          const share = Math.min(
            1,
            Math.max(
              0,
              ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / ((b.x - a.x) ** 2 + (b.y - a.y) ** 2),
            ),
          );
          const foot = { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share };
          const awayM = Math.hypot(foot.x - p.x, foot.y - p.y);
          nearest = { spareM, p, toward: { x: (foot.x - p.x) / awayM, y: (foot.y - p.y) / awayM } };
        });
    const byM = Math.max(0, nearest.spareM) + 0.003;
    const pushed = main.path.map((p) => ({
      x: p.x + nearest.toward.x * byM,
      y: p.y + nearest.toward.y * byM,
    }));
    expect(found(bed, { runs: withRun(part, main, pushed) })).toContain('clearance');
  });

  test('with one row pulled over the next is found crossing', () => {
    const at = longestChord(main.path);
    const [a, b] = [main.path[at]!, main.path[at + 1]!];
    const lengthM = Math.hypot(b.x - a.x, b.y - a.y);
    const failures = [1, -1].flatMap((side) => {
      const far = (1.4 * input.rowSpacingM * side) / lengthM;
      const over = {
        x: (a.x + b.x) / 2 - (b.y - a.y) * far,
        y: (a.y + b.y) / 2 + (b.x - a.x) * far,
      };
      const path = [...main.path.slice(0, at + 1), over, ...main.path.slice(at + 1)];
      return found(bed, { runs: withRun(part, main, path) });
    });
    expect(failures).toContain('crossing');
  });

  test('cut open is found open', () => {
    expect(found(bed, { runs: withRun(part, main, main.path.slice(0, -2)) })).toContain('open-loop');
  });

  test('with one bend drawn as a corner is found too tight', () => {
    const at = main.path.findIndex((p, i) => i > 3 && isBentAt(main.path, i) && p !== main.path[0]);
    const [before, after] = [main.path[at - 3]!, main.path[at + 3]!];
    const corner = {
      x: 2 * main.path[at]!.x - (before.x + after.x) / 2,
      y: 2 * main.path[at]!.y - (before.y + after.y) / 2,
    };
    const path = [...main.path.slice(0, at - 2), corner, ...main.path.slice(at + 3)];
    expect(found(bed, { runs: withRun(part, main, path) })).toContain('bend');
  });

  test('without the tee at its stub-up is found unfed', () => {
    const joins = part.joins.filter((join) => join.fitting !== 'stub-up-tee');
    expect(found(bed, { joins })).toContain('unfed');
  });

  test('with its lead run on past the tee, across the loop and back, is found crossing', () => {
    const lead = part.runs.find((run) => run.role === 'lead')!;
    const tee = lead.path.at(-1)!;
    const [before, after] = [main.path[1]!, main.path.at(-2)!];
    const along = { x: before.x - after.x, y: before.y - after.y };
    const lengthM = Math.hypot(along.x, along.y);
    const over = (side: number): Point => ({
      x: tee.x + (0.05 * along.x - 0.03 * side * along.y) / lengthM,
      y: tee.y + (0.05 * along.y + 0.03 * side * along.x) / lengthM,
    });
    const across = withRun(part, lead, [lead.path[0]!, over(1), over(-1), tee]);
    expect(found(bed, { runs: across })).toContain('crossing');
  });

  test('with a point that is no number is found so', () => {
    const path = main.path.map((p, i) => (i === 5 ? { x: p.x, y: Number.NaN } : p));
    expect(found(bed, { runs: withRun(part, main, path) })).toEqual(['not-finite']);
  });
});

function longestChord(path: readonly Point[]): number {
  const lengths = path.slice(1).map((b, i) => Math.hypot(b.x - path[i]!.x, b.y - path[i]!.y));
  return lengths.indexOf(Math.max(...lengths));
}

/** Six points round a place that turn at least a quarter within a hand's breadth. */
function isBentAt(path: readonly Point[], i: number): boolean {
  if (i < 3 || i + 3 >= path.length) return false;
  const [a, b, c, d] = [path[i - 3]!, path[i - 2]!, path[i + 2]!, path[i + 3]!];
  if (Math.hypot(d.x - a.x, d.y - a.y) > 0.25) return false;
  const turned = Math.atan2(d.y - c.y, d.x - c.x) - Math.atan2(b.y - a.y, b.x - a.x);
  return Math.abs(Math.sin(turned / 2)) > 0.35;
}

describe('a centre row between two tees', () => {
  test('passes as laid', () => {
    expect(found(CENTRE_ROW, {})).toEqual([]);
  });

  test('is found without either of its tees', () => {
    const tees = CENTRE_ROW[1].joins.filter((join) => join.fitting === 'tee');
    expect(tees).toHaveLength(2);
    for (const tee of tees) {
      const failures = found(CENTRE_ROW, { joins: CENTRE_ROW[1].joins.filter((join) => join !== tee) });
      expect(failures).toContain('loose-end');
      expect(failures).toContain('separation');
    }
  });

  test('is found where a tee is drawn a hand away from it', () => {
    const joins = CENTRE_ROW[1].joins.map((join) =>
      join.fitting === 'tee' ? { ...join, y: join.y + 0.1 } : join,
    );
    expect(found(CENTRE_ROW, { joins })).toContain('stray-fitting');
  });
});

describe('rows between headers', () => {
  test('pass as laid', () => {
    expect(found(HEADERS, {})).toEqual([]);
  });

  test('are found where one meeting has no fitting', () => {
    const rowJoins = HEADERS[1].joins.filter((join) => join.runIds.length > 1 && join.fitting === 'tee');
    for (const missing of rowJoins)
      expect(found(HEADERS, { joins: HEADERS[1].joins.filter((join) => join !== missing) })).not.toEqual([]);
  });
});

test('a route drawn round an obstacle is found where the obstacle grows by 3 mm', () => {
  const [input, part] = LAID.find((one) => one.name === '12-one-tree')!.bed;
  const grown = {
    ...input,
    rings: input.rings.map((ring, i) =>
      i === 0
        ? ring
        : { ...ring, edges: ring.edges.map((edge) => ({ ...edge, offsetM: edge.offsetM + 0.003 })) },
    ),
  };
  expect(found([grown, part], {})).toContain('clearance');
  expect(plainInput('bed', []).locked).toBeNull();
});
