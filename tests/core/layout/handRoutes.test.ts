import { describe, expect, test } from 'vitest';
import {
  type BedLayout,
  type BedRing,
  type LayoutInput,
  type LockedRun,
  layoutBed,
} from '../../../src/core/layout';
import { applyCommand, type Command, emptyPlan, type Plan, plainBed } from '../../../src/core/plan';
import { plainInput, readBedFile } from '../../bench/bedFiles';

const BEDS = new URL('../../reference/beds/', import.meta.url).pathname;
const bedFile = (name: string): LayoutInput => readBedFile(`${BEDS}${name}.geojson`).input;

const corners = [
  { x: 0, y: 0 },
  { x: 6, y: 0 },
  { x: 6, y: 3 },
  { x: 0, y: 3 },
];
const outer: BedRing = { points: corners, edges: corners.map(() => ({ class: 'paving', offsetM: 0.0762 })) };
const drawn = (runs: readonly LockedRun[]): BedLayout =>
  layoutBed({ ...plainInput('bed', [outer]), stubUp: { x: 1, y: 0 }, locked: runs })[0]!;
const loopOf = (...points: readonly (readonly [number, number])[]): LockedRun => ({
  role: 'loop',
  closed: true,
  path: points.map(([x, y]) => ({ x, y })),
});
const row = (
  role: LockedRun['role'],
  from: readonly [number, number],
  to: readonly [number, number],
): LockedRun => ({
  role,
  closed: false,
  path: [from, to].map(([x, y]) => ({ x, y })),
});

describe('a loop drawn by hand by its corners', () => {
  const layout = drawn([loopOf([0.2, 0.2], [5.8, 0.2], [5.8, 0.7], [0.2, 0.7])]);

  test('is bent at its corners as a crew bends it, and is sound', () => {
    expect(layout.verified.failures).toEqual([]);
    const loop = layout.runs.find((run) => run.role === 'loop')!;
    // By hand: 2 x (5.6 + 0.5) m round, less what four quarter bends of 0.127 m save: 4 x (2 - pi/2) x 0.13.
    expect(loop.lengthM).toBeGreaterThan(12.2 - 0.24);
    expect(loop.lengthM).toBeLessThan(12.2 - 0.2);
    expect(loop.emittersM.length).toBeGreaterThan(38);
  });

  test('is fed from the stub-up by a lead and a tee, and flushed where its flows meet', () => {
    expect(layout.runs.some((run) => run.role === 'lead')).toBe(true);
    expect(layout.joins.map((join) => join.fitting).sort()).toEqual(['flush-valve', 'stub-up-tee']);
  });

  test('says how much ground it leaves dry', () => {
    expect(layout.coverage.coveredRatio).toBeLessThan(0.6);
    expect(layout.problems.map((problem) => problem.code)).toContain('layout.coverage-short');
  });
});

test('a row drawn within a hair of the loop ends on it with a tee', () => {
  const layout = drawn([
    loopOf([0.2, 0.2], [5.8, 0.2], [5.8, 1.4], [0.2, 1.4]),
    row('centre-row', [0.21, 0.8], [5.785, 0.8]),
  ]);
  expect(layout.verified.failures).toEqual([]);
  expect(layout.layout).toBe('loop-centre-row');
  expect(layout.joins.filter((join) => join.fitting === 'tee')).toHaveLength(2);
});

test('two loops drawn apart get a lead and a tee each', () => {
  const layout = drawn([
    loopOf([0.2, 0.2], [2.6, 0.2], [2.6, 0.8], [0.2, 0.8]),
    loopOf([3.2, 0.2], [5.8, 0.2], [5.8, 0.8], [3.2, 0.8]),
  ]);
  expect(layout.verified.failures).toEqual([]);
  expect(layout.runs.filter((run) => run.role === 'loop')).toHaveLength(2);
  expect(layout.runs.filter((run) => run.role === 'lead')).toHaveLength(2);
});

test.each([
  ['over an edge offset', loopOf([0.05, 0.2], [5.8, 0.2], [5.8, 0.8], [0.05, 0.8]), 'clearance'],
  ['over itself', loopOf([0.3, 0.3], [5.5, 2.7], [5.5, 0.3], [0.3, 2.7]), 'crossing'],
  ['with its sides a hand apart', loopOf([0.2, 0.2], [5.8, 0.2], [5.8, 0.46], [0.2, 0.46]), 'separation'],
])('a loop drawn %s is kept and reported', (_, loop, failure) => {
  const layout = drawn([loop]);
  const stop = layout.problems.find((problem) => problem.code === 'layout.locked-fails')!;
  expect(stop.severity).toBe('stop');
  expect(stop.params.failures).toContain(failure);
  expect(layout.runs.some((run) => run.role === 'loop')).toBe(true);
});

describe.each([
  ['03-L', null],
  ['09-strip3x60ft', null],
  ['10-strip18in-bent', null],
  ['01-rect10x15ft', 'laterals'],
  ['02-rect20x40ft-S12', null],
] as const)('a route through %s (%s) locked as it lies', (name, layout) => {
  const input = { ...bedFile(name), layout, quality: layout ? ('finished' as const) : ('preview' as const) };
  const [before] = layoutBed(input);
  const locked = before!.runs.map(({ role, use, closed, path }) => ({ role, use, closed, path }));
  const [after] = layoutBed({ ...input, locked });

  test('stays where it lay, sound, with the same tubing and fittings', () => {
    const lengths = (one: BedLayout): number[] =>
      one.runs.map((run) => Math.round(run.lengthM * 1000)).sort((a, b) => a - b);
    const fittings = (one: BedLayout): string[] => one.joins.map((join) => join.fitting).sort();
    expect(after!.verified.failures).toEqual([]);
    expect(lengths(after!)).toEqual(lengths(before!));
    expect(fittings(after!)).toEqual(fittings(before!));
  });
});

describe('a route changed point by point', () => {
  const edge = { class: null, offsetM: null, sagittaM: 0 };
  const bed = plainBed('bed', [{ points: corners, edges: corners.map(() => edge) }]);
  const start: Plan = { ...emptyPlan('plan'), beds: { bed } };
  const must = (plan: Plan, command: Command): Plan => {
    const result = applyCommand(plan, command);
    if (!result.ok) throw new Error(JSON.stringify(result.problems));
    return result.value.plan;
  };
  const path = [
    { x: 0.2, y: 0.2 },
    { x: 5.8, y: 0.2 },
    { x: 5.8, y: 0.8 },
    { x: 0.2, y: 0.8 },
    { x: 0.2, y: 0.2 },
  ];
  const withRoute = must(start, {
    name: 'set-route',
    params: { id: 'bed', runs: [{ role: 'loop', closed: true, path }] },
  });
  const routeOf = (plan: Plan) => plan.beds.bed!.lockedRoute![0]!.path;

  test('keeps every other point, and the closing point follows the first', () => {
    const moved = must(withRoute, {
      name: 'move-route-point',
      params: { id: 'bed', runIndex: 0, pointIndex: 0, to: { x: 0.3, y: 0.25 } },
    });
    expect(routeOf(moved)).toEqual([{ x: 0.3, y: 0.25 }, ...path.slice(1, 4), { x: 0.3, y: 0.25 }]);
  });

  test('takes a new point between two', () => {
    const more = must(withRoute, {
      name: 'insert-route-point',
      params: { id: 'bed', runIndex: 0, pointIndex: 1, at: { x: 5.9, y: 0.5 } },
    });
    expect(routeOf(more)[2]).toEqual({ x: 5.9, y: 0.5 });
    expect(routeOf(more)).toHaveLength(6);
  });

  test('keeps three points of a loop', () => {
    const three = must(withRoute, {
      name: 'remove-route-point',
      params: { id: 'bed', runIndex: 0, pointIndex: 3 },
    });
    const refused = applyCommand(three, {
      name: 'remove-route-point',
      params: { id: 'bed', runIndex: 0, pointIndex: 0 },
    });
    expect(routeOf(three)).toHaveLength(4);
    expect(refused.ok ? null : refused.problems[0]!.code).toBe('plan.too-few-route-points');
  });

  test('is undone by its inverse, point for point', () => {
    const result = applyCommand(withRoute, {
      name: 'move-route-point',
      params: { id: 'bed', runIndex: 0, pointIndex: 2, to: { x: 5, y: 1 } },
    });
    expect(result.ok).toBe(true);
    expect(routeOf(withRoute)).toEqual(path);
  });

  test('is refused by name where the bed has no route of its own', () => {
    const refused = applyCommand(start, {
      name: 'move-route-point',
      params: { id: 'bed', runIndex: 0, pointIndex: 0, to: { x: 1, y: 1 } },
    });
    expect(refused.ok ? null : refused.problems[0]!.code).toBe('plan.no-such-route');
  });

  test('is given back to the program', () => {
    expect(
      must(withRoute, { name: 'set-route', params: { id: 'bed', runs: null } }).beds.bed!.lockedRoute,
    ).toBeNull();
  });
});
