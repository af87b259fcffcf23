import { describe, expect, it } from 'vitest';
import { type BedLayout, type LayoutInput, layoutBed } from '../../../src/core/layout';
import { plainInput } from '../../bench/bedFiles';

const OFFSET_M = 0.0762;
const WIDE_M = 8;
const HIGH_M = 3.1;
/** Twelve-inch emitters, rows 18 in apart at most, along the long side. */
const EMITTERS_M = 0.3048;
const points = [
  { x: 0, y: 0 },
  { x: WIDE_M, y: 0 },
  { x: WIDE_M, y: HIGH_M },
  { x: 0, y: HIGH_M },
];
const bed: LayoutInput = {
  ...plainInput('bed', [
    { points, edges: points.map(() => ({ class: 'paving' as const, offsetM: OFFSET_M })) },
  ]),
  rowDirectionRad: 0,
};
/** By hand: (3.1 - 2 x 0.0762) / 0.4572 = 6.4, so seven spaces and eight rows. */
const ROWS = 8;
const ROW_M = WIDE_M - 2 * OFFSET_M;

const rowsOf = (part: BedLayout) => part.runs.filter((run) => run.role === 'lateral');
const used = (part: BedLayout, use: string) => part.runs.filter((run) => run.use === use);
const fitted = (part: BedLayout, fitting: string) => part.joins.filter((join) => join.fitting === fitting);

describe('rows fed from a header across their middle', () => {
  const [part] = layoutBed({ ...bed, layout: 'laterals', chosenAlternative: 'laterals-centre-fed' });

  it('run both ways from it, half a row each, and pass the check', () => {
    expect(part!.chosen).toBe('laterals-centre-fed');
    expect(part!.verified.failures).toEqual([]);
    expect(rowsOf(part!)).toHaveLength(2 * ROWS);
    for (const row of rowsOf(part!)) expect(Math.abs(row.lengthM - ROW_M / 2)).toBeLessThan(0.02);
  });

  it('take one supply header as long as the rows are deep, two flush headers, and a flush valve on each', () => {
    const [supply, ...others] = used(part!, 'supply-header');
    expect(others).toEqual([]);
    expect(Math.abs(supply!.lengthM - (HIGH_M - 2 * OFFSET_M))).toBeLessThan(0.02);
    expect(used(part!, 'flush-header')).toHaveLength(2);
    expect(fitted(part!, 'flush-valve')).toHaveLength(2);
  });

  it('count a tee a row on the supply header, and on each flush header a tee for all rows but the two outer ones', () => {
    const onSupply = part!.joins.filter((join) => join.runIds.length === 3);
    expect(onSupply.filter((join) => join.fitting === 'tee')).toHaveLength(ROWS);
    const flushIds = new Set(used(part!, 'flush-header').map((run) => run.id));
    const onFlush = part!.joins.filter(
      (join) => join.runIds.length === 2 && join.runIds.some((id) => flushIds.has(id)),
    );
    expect(onFlush.filter((join) => join.fitting === 'tee')).toHaveLength(2 * (ROWS - 2));
    expect(onFlush.filter((join) => join.fitting === 'elbow')).toHaveLength(2 * 2);
  });

  it('have emitters on rows and none on headers', () => {
    for (const run of part!.runs.filter((each) => each.role === 'connector'))
      expect(run.emittersM).toEqual([]);
    // By hand: half a row is 3.92 m; the first emitter half a spacing from the header, then every 0.3048 m: 13.
    for (const row of rowsOf(part!)) expect(row.emittersM).toHaveLength(13);
  });
});

describe('emitters of rows between two headers', () => {
  /** How far an emitter lies past the last whole spacing from the header the rows are fed from. */
  const phases = (part: BedLayout): number[] =>
    rowsOf(part)
      .map((row) => ({ y: row.path[0]!.y, firstM: row.emittersM[0]! }))
      .sort((one, other) => one.y - other.y)
      .map(({ firstM }) => firstM / EMITTERS_M);

  it('stand in squares as a rule and in triangles where rows are staggered', () => {
    const asked = { ...bed, layout: 'laterals' as const, chosenAlternative: 'laterals-end-fed' };
    const [square] = layoutBed(asked);
    const [triangle] = layoutBed({ ...asked, staggered: true });
    expect(phases(square!)).toHaveLength(ROWS);
    for (const phase of phases(square!)) expect(phase).toBeCloseTo(0.5, 6);
    phases(triangle!).forEach((phase, row) => {
      expect(phase).toBeCloseTo(row % 2 === 0 ? 0.5 : 1, 6);
    });
  });
});

describe('a bed on a slope', () => {
  it('has its rows along the contour, a quarter further apart in the bottom third', () => {
    // Downhill due south: rows lie east and west, and the southern ones further apart. Common practice, no source.
    const deep = [
      { x: 0, y: 0 },
      { x: 5, y: 0 },
      { x: 5, y: 9 },
      { x: 0, y: 9 },
    ];
    const [part] = layoutBed({
      ...plainInput('slope', [
        { points: deep, edges: deep.map(() => ({ class: 'lawn' as const, offsetM: OFFSET_M })) },
      ]),
      slope: { ratio: 0.08, towardRad: Math.PI },
      layout: 'loop',
    });
    const loop = part!.runs.find((run) => run.role === 'loop')!;
    const heights = loop.path
      .slice(1)
      .flatMap((b, index) => {
        const a = loop.path[index]!;
        return Math.abs(b.y - a.y) < 1e-3 && Math.abs(b.x - a.x) > 1.5 ? [b.y] : [];
      })
      .sort((one, other) => one - other)
      .filter((y, index, all) => index === 0 || y - all[index - 1]! > 0.05);
    const steps = heights.slice(1).map((y, index) => y - heights[index]!);
    expect(heights.length).toBeGreaterThan(14);
    expect(Math.min(...steps.slice(0, 3)) / Math.max(...steps.slice(-6))).toBeCloseTo(1.25, 1);
  });
});
