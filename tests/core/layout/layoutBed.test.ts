import { describe, expect, test } from 'vitest';
import { type BedRing, type EdgeClass, type LayoutInput, layoutBed } from '../../../src/core/layout';
import { sentenceOf } from '../../../src/core/words';
import { plainInput, readBedFile } from '../../bench/bedFiles';

const FOOT_M = 0.3048;
const INCH_M = 0.0254;
const BEDS = new URL('../../reference/beds/', import.meta.url).pathname;
const bedFile = (name: string): LayoutInput => readBedFile(`${BEDS}${name}.geojson`).input;

const ring = (
  corners: readonly (readonly [number, number])[],
  offsetM = 3 * INCH_M,
  edgeClass: EdgeClass = 'paving',
): BedRing => ({
  points: corners.map(([x, y]) => ({ x, y })),
  edges: corners.map(() => ({ class: edgeClass, offsetM })),
});
const lengthOf = (runs: readonly { role: string; lengthM: number }[]): number =>
  runs
    .filter((run) => run.role !== 'lead' && run.role !== 'connector')
    .reduce((sum, run) => sum + run.lengthM, 0);

describe('the 10 x 15 ft bed at 18 in rows', () => {
  const input = bedFile('01-rect10x15ft');
  const [layout] = layoutBed(input);

  test('a loop in a 10 x 15 ft bed comes back to its stub-up', () => {
    const loop = layout!.runs.find((run) => run.role === 'loop')!;
    expect(layout!.status).toBe('routed');
    expect(loop.closed).toBe(true);
    expect(loop.path.at(-1)).toEqual(loop.path[0]);
    expect(Math.hypot(loop.startsAt.x - layout!.stubUp.x, loop.startsAt.y - layout!.stubUp.y)).toBeLessThan(
      0.3,
    );
  });

  test('the rule of thumb says 100 ft: area x 12 / 18', () => {
    // 150 ft2 x 12 / 18 in = 100 ft.
    expect(layout!.ruleOfThumbLengthM / FOOT_M).toBeCloseTo(100, 6);
  });

  test('eight rows as a loop take about 123 ft and are among the choices', () => {
    const choices = [{ key: layout!.chosen, lengthM: lengthOf(layout!.runs) }, ...layout!.alternatives];
    const loop = choices.find((choice) => choice.key === 'loop')!;
    // 123 ft: what the method reached when it was tried (ours).
    expect(loop.lengthM / FOOT_M).toBeGreaterThan(119);
    expect(loop.lengthM / FOOT_M).toBeLessThan(127);
  });

  test('every choice shown passed the verifier and has its figures', () => {
    expect(layout!.verified.passed).toBe(true);
    expect(layout!.alternatives.length).toBeGreaterThanOrEqual(1);
    for (const other of layout!.alternatives) {
      expect(other.valid).toBe(true);
      expect(other.lengthM).toBeGreaterThan(20);
      expect(other.coverage.coveredRatio).toBeGreaterThan(0.9);
    }
  });

  test('a choice of the designer is kept', () => {
    const other = layout!.alternatives.find((choice) => choice.key === 'laterals-end-fed')!;
    const [kept] = layoutBed({ ...input, chosenAlternative: other.key });
    expect(kept!.chosen).toBe(other.key);
  });

  test('laterals are fed by a supply header and end on a flush header, every meeting a fitting', () => {
    const [kept] = layoutBed({ ...input, layout: 'laterals' });
    const uses = kept!.runs.filter((run) => run.role === 'connector').map((run) => run.use);
    const rows = kept!.runs.filter((run) => run.role === 'lateral');
    expect(uses).toContain('supply-header');
    expect(uses).toContain('flush-header');
    const tees = kept!.joins.filter((join) => join.runIds.length > 1 && join.fitting !== 'coupling');
    expect(tees.length).toBeGreaterThanOrEqual(rows.length);
    expect(kept!.joins.some((join) => join.fitting === 'flush-valve')).toBe(true);
    for (const run of kept!.runs.filter((each) => each.role === 'connector'))
      expect(run.emittersM).toEqual([]);
  });

  test('the loop is flushed near the middle of its length', () => {
    const loop = layout!.runs.find((run) => run.role === 'loop')!;
    expect(loop.flushAtM! / loop.lengthM).toBeGreaterThan(0.34);
    expect(loop.flushAtM! / loop.lengthM).toBeLessThan(0.66);
  });

  test('the same bed in gives the same layout out', () => {
    expect(JSON.stringify(layoutBed(input))).toBe(JSON.stringify([layout]));
  });
});

describe('strips', () => {
  test('a 3 x 60 ft strip at 18 in takes three rows, about 183 ft, and is covered whole', () => {
    const [layout] = layoutBed(bedFile('09-strip3x60ft'));
    expect(layout!.layout).toBe('strip');
    expect(layout!.runs.map((run) => run.role).sort()).toEqual(['centre-row', 'lead', 'loop']);
    expect(lengthOf(layout!.runs) / FOOT_M).toBeGreaterThan(180);
    expect(lengthOf(layout!.runs) / FOOT_M).toBeLessThan(186);
    expect(layout!.coverage.coveredRatio).toBe(1);
    expect(layout!.joins.filter((join) => join.fitting === 'tee')).toHaveLength(2);
  });

  test('a narrow strip bent once takes one row down its middle, flushed at its end', () => {
    const [layout] = layoutBed(bedFile('10-strip18in-bent'));
    const row = layout!.runs.find((run) => run.role === 'single-row')!;
    expect(row.flushAtM).toBeCloseTo(row.lengthM, 6);
    expect(layout!.coverage.coveredRatio).toBeGreaterThan(0.995);
    expect(layout!.verified.passed).toBe(true);
  });

  test('a strip that runs to a point has a spur into its thin end', () => {
    const taper = ring([
      [0, 0],
      [12, 0],
      [12, 0.3],
      [0, 1.2],
    ]);
    const [layout] = layoutBed(plainInput('taper', [taper]));
    expect(layout!.status).toBe('routed');
    expect(layout!.coverage.coveredRatio).toBeGreaterThan(0.98);
  });
});

describe('one loop too long for its limit', () => {
  const input = bedFile('02-rect20x40ft-S12');
  const [layout] = layoutBed({ ...input, quality: 'preview' });
  const loops = layout!.runs.filter((run) => run.role === 'loop');

  test('becomes several, each under the limit and within 15 % of their mean', () => {
    const mean = loops.reduce((sum, loop) => sum + loop.lengthM, 0) / loops.length;
    expect(loops.length).toBeGreaterThanOrEqual(3);
    for (const loop of loops) {
      expect(loop.lengthM).toBeLessThanOrEqual(input.maxRunM!);
      expect(Math.abs(loop.lengthM / mean - 1)).toBeLessThan(0.15);
    }
  });

  test('each with a tee and a lead of its own', () => {
    expect(layout!.joins.filter((join) => join.fitting === 'stub-up-tee')).toHaveLength(loops.length);
    expect(layout!.runs.filter((run) => run.role === 'lead')).toHaveLength(loops.length);
  });
});

describe('ground for a dozen loops and more', () => {
  const input = bedFile('20-big10000sqft');
  const [layout] = layoutBed({ ...input, quality: 'preview' });

  test('is cut between the rows of one comb, which waters 99 % of it with no loop over the limit', () => {
    // Target of 99 % for hard beds: the project's own table of targets; fields with a comb each reach 98.4 % here.
    expect(layout!.coverage.coveredRatio).toBeGreaterThan(0.99);
    const loops = layout!.runs.filter((run) => run.role === 'loop');
    expect(loops.length).toBeGreaterThan(12);
    for (const loop of loops) expect(loop.lengthM).toBeLessThanOrEqual(input.maxRunM!);
  });
});

test('an acre among forty obstacles is laid to the end, sound, in loops under the limit', () => {
  const input = bedFile('21-acre40');
  const [layout] = layoutBed({ ...input, quality: 'finished' });
  expect(layout!.problems.map(({ code }) => code)).not.toContain('layout.no-route');
  expect(layout!.verified.failures).toEqual([]);
  // Target of 99 % with obstacles: the project's own table of targets.
  expect(layout!.coverage.coveredRatio).toBeGreaterThan(0.99);
  const loops = layout!.runs.filter((run) => run.role === 'loop');
  expect(loops.length).toBeGreaterThan(60);
  for (const loop of loops) expect(loop.lengthM).toBeLessThanOrEqual(input.maxRunM!);
}, 120_000);

describe('beds drawn wrong', () => {
  const codes = (input: LayoutInput): string[] =>
    layoutBed({ ...input, quality: 'preview' }).flatMap((part) =>
      part.problems.map((problem) => problem.code),
    );

  test('a bow-tie becomes two beds with a warning', () => {
    const parts = layoutBed({ ...bedFile('26-hostile-bowtie'), quality: 'preview' });
    expect(parts.map((part) => part.bedId)).toEqual(['26-hostile-bowtie/1', '26-hostile-bowtie/2']);
    expect(parts[0]!.problems[0]).toMatchObject({ code: 'layout.split-outline', severity: 'warn' });
  });

  test('an outline without area is refused by name', () => {
    expect(codes(bedFile('27-hostile-zero-area'))).toContain('layout.no-area');
  });

  test('repeated points are dropped with a warning and the bed is laid', () => {
    const [layout] = layoutBed({ ...bedFile('28-hostile-duplicates'), quality: 'preview' });
    expect(layout!.problems.map((problem) => problem.code)).toContain('layout.repeated-points');
    expect(layout!.status).toBe('routed');
  });

  test('a hole outside the bed is left out with a warning', () => {
    const outer = ring([
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ]);
    const hole = ring([
      [8, 1],
      [9, 1],
      [9, 2],
      [8, 2],
    ]);
    const input = { ...plainInput('bed', [outer, hole]), quality: 'preview' as const };
    const [layout] = layoutBed(input);
    expect(layout!.status).toBe('routed');
    expect(layout!.problems.map((problem) => problem.code)).toContain('layout.hole-outside');
  });

  test('a bed smaller than its offsets is refused, and the refusal has words', () => {
    const [layout] = layoutBed(bedFile('32-hostile-too-small'));
    const stop = layout!.problems.find((problem) => problem.severity === 'stop')!;
    expect(layout!.status).toBe('refused');
    expect(sentenceOf(stop.code)).not.toBeNull();
    expect(layout!.runs).toEqual([]);
  });
});

describe('a route locked by hand', () => {
  const outer = ring([
    [0, 0],
    [4, 0],
    [4, 2],
    [0, 2],
  ]);
  const row = (y: number) => ({
    role: 'single-row' as const,
    closed: false,
    path: [
      { x: 0.2, y },
      { x: 3.8, y },
    ],
  });

  test('is kept point for point and verified', () => {
    const [layout] = layoutBed({ ...plainInput('bed', [outer]), locked: [row(1)] });
    const kept = layout!.runs.find((run) => run.role === 'single-row')!;
    expect(kept.path).toEqual([
      { x: 0.2, y: 1 },
      { x: 3.8, y: 1 },
    ]);
    expect(layout!.verified.passed).toBe(true);
    expect(layout!.chosen).toBe('locked');
  });

  test('is kept but reported where it comes too near an edge', () => {
    const [layout] = layoutBed({ ...plainInput('bed', [outer]), locked: [row(0.02)] });
    const stop = layout!.problems.find((problem) => problem.code === 'layout.locked-fails')!;
    expect(stop.severity).toBe('stop');
    expect(stop.params.failures).toContain('clearance');
  });
});

describe('a tree with a ring', () => {
  const outer = ring([
    [0, 0],
    [6, 0],
    [6, 4],
    [0, 4],
  ]);
  const trunk = Array.from({ length: 16 }, (_, i) => ({
    x: 3 + 0.1 * Math.cos((i * Math.PI) / 8),
    y: 2 + 0.1 * Math.sin((i * Math.PI) / 8),
  }));
  const [layout] = layoutBed({
    ...plainInput('bed', [outer]),
    quality: 'preview',
    treeRings: true,
    obstacles: [{ id: 'oak', outline: trunk, clearanceM: 0.15 }],
    trees: [{ id: 'oak', at: { x: 3, y: 2 }, trunkRadiusM: 0.1, ringRadiusM: 0.6 }],
  });

  test('has a closed ring of tubing at the radius asked for', () => {
    const found = layout!.runs.find((run) => run.role === 'ring')!;
    expect(layout!.verified.failures).toEqual([]);
    expect(found.closed).toBe(true);
    // By hand: 2 x pi x 0.6 m, a hair less along chords.
    expect(found.lengthM).toBeGreaterThan(3.74);
    expect(found.lengthM).toBeLessThan(3.78);
    expect(found.emittersM.length).toBeGreaterThan(10);
  });

  test('fed from the loop by a plain link with a tee at both ends', () => {
    const link = layout!.runs.find((run) => run.use === 'link')!;
    const tees = layout!.joins.filter((join) => join.fitting === 'tee' && join.runIds.includes(link.id));
    expect(link.emittersM).toEqual([]);
    expect(tees).toHaveLength(2);
  });
});

test('a loop beyond the limit is told with both lengths and the source of the limit, one within it is not', () => {
  const input = { ...bedFile('09-strip3x60ft'), layout: 'loop' as const };
  const lengthM = Math.max(
    ...layoutBed(input)[0]!.runs.map((run) => (run.role === 'loop' ? run.lengthM : 0)),
  );
  expect(lengthM).toBeGreaterThan(30);
  const said = (maxRunM: number) =>
    layoutBed({ ...input, maxRunM })
      .flatMap(({ problems }) => problems)
      .filter(({ code }) => code === 'layout.run-too-long');
  expect(said(lengthM + 0.1)).toEqual([]);
  // A strip of two rows cannot be cut into loops of 1 m.
  const [long] = said(1);
  expect(long?.value).toBeGreaterThan(long!.limit!);
  expect(long?.limit).toBe(1);
  expect(long?.source?.text).toMatch(/uniformity/);
});

test('every code routing can say has its words', () => {
  const said = [
    'no-area',
    'too-small',
    'too-narrow',
    'too-complex',
    'no-route',
    'locked-fails',
    'choice-not-possible',
    'coverage-short',
    'gap-wide',
    'run-too-long',
    'several-loops',
    'rows-stretched',
    'long-lead',
    'rule-of-thumb',
    'repeated-points',
    'split-outline',
    'hole-outside',
  ];
  for (const code of said) expect(sentenceOf(`layout.${code}`), code).not.toBeNull();
});
