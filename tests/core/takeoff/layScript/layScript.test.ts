import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { PlanPoint } from '../../../../src/core/geometry';
import type { BedLayout } from '../../../../src/core/layout';
import { type Cut, type FixedSpot, type LayScript, layScript } from '../../../../src/core/takeoff';
import { layout as bedLayout, run } from '../handMade';
import { crossTapes, isMove, strayM, walk } from './replay';

const read = (path: string): string =>
  readFileSync(new URL(`../../../reference/${path}`, import.meta.url), 'utf8');
interface Routes {
  readonly beds: readonly { readonly id: string; readonly layout: BedLayout }[];
  readonly cuts: readonly Cut[];
}
const demonstration = JSON.parse(read('routes/demonstration.json')) as Routes;
const beds = JSON.parse(read('routes/beds.json')) as Routes;

/** What a crew can place: 20 mm. Readings of a tape go to the quarter inch. */
const PLACED_M = 0.02;
const QUARTER_INCH_M = 0.00635;
const toQuarter = (m: number): number => Math.round(m / QUARTER_INCH_M) * QUARTER_INCH_M;

/** The corners of the box round a bed, two metres off: as a house and a walk would stand. */
const spotsRound = (layout: BedLayout): FixedSpot[] => {
  const points = layout.runs.flatMap((r) => r.path);
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)];
  const low = { x: Math.min(...xs) - 2, y: Math.min(...ys) - 2 };
  const high = { x: Math.max(...xs) + 2, y: Math.max(...ys) + 2 };
  const corners: PlanPoint[] = [low, { x: high.x, y: low.y }, high, { x: low.x, y: high.y }];
  return corners.map((at, i) => ({ id: `spot-${i + 1}`, at, rank: 1 }));
};

function expectLaid(script: LayScript, layout: BedLayout): void {
  expect(script.runs.length).toBe(layout.runs.length);
  for (const laid of script.runs) {
    const path = layout.runs.find((r) => r.id === laid.runId)!;
    const { points, ends } = walk(laid);
    expect(strayM(points, path.path), `${laid.runId}: walked off the route`).toBeLessThan(PLACED_M);
    expect(strayM(path.path, points), `${laid.runId}: route not walked`).toBeLessThan(PLACED_M);
    const last = laid.steps.at(-1)!;
    expect(last.kind).toBe('end');
    expect(last.emitter).toBe(path.emittersM.length);
    laid.steps.forEach((step, i) => {
      if (!isMove(step)) return;
      expect(Math.hypot(step.at.x - ends[i]!.x, step.at.y - ends[i]!.y), laid.runId).toBeLessThan(PLACED_M);
      expect(step.emitter).toBe(path.emittersM.filter((m) => m <= step.alongM + 1e-6).length);
    });
  }
}

function tieFigures(script: LayScript): { untied: number; worstM: number; flat: number } {
  let [untied, worstM, flat] = [0, 0, 0];
  for (const step of script.runs.flatMap((r) => r.steps)) {
    if (!step.tie) {
      untied++;
      continue;
    }
    const pair = script.pairs[step.tie.pair]!;
    const read = { ...step.tie, firstM: toQuarter(step.tie.firstM), secondM: toQuarter(step.tie.secondM) };
    const found = crossTapes(pair.first.at, pair.second.at, read);
    worstM = Math.max(worstM, Math.hypot(found.x - step.at.x, found.y - step.at.y));
    // 40 degrees.
    if (step.tie.crossingSine < 0.6427) flat++;
  }
  return { untied, worstM, flat };
}

describe("the demonstration's beds", () => {
  for (const { id, layout } of demonstration.beds) {
    const script = layScript({ layout, cuts: demonstration.cuts, spots: spotsRound(layout) });

    test(`a turtle told only the steps of ${id} walks its route within 20 mm`, () => {
      expectLaid(script, layout);
    });

    test(`two tapes read to a quarter inch find every place of ${id} within 20 mm`, () => {
      const found = tieFigures(script);
      expect(found.untied).toBe(0);
      expect(found.flat).toBe(0);
      expect(found.worstM).toBeLessThan(PLACED_M);
    });
  }
});

describe('beds to route', () => {
  for (const { id, layout } of beds.beds) {
    test(`a turtle and two tapes lay ${id} within 20 mm`, () => {
      const script = layScript({ layout, cuts: [], spots: spotsRound(layout) });
      expectLaid(script, layout);
      const found = tieFigures(script);
      expect(found.untied).toBe(0);
      expect(found.worstM).toBeLessThan(PLACED_M);
    });
  }
});

describe('a run of two rows and a half-round turn, by hand', () => {
  // 4 m east, a half circle to the left of 0.25 m radius (0.785 m), 4 m west; emitters each 0.3 m from 0.15 m.
  const arc = Array.from({ length: 37 }, (_, k) => ({
    x: 4 + 0.25 * Math.cos(-Math.PI / 2 + (Math.PI * k) / 36),
    y: 0.25 + 0.25 * Math.sin(-Math.PI / 2 + (Math.PI * k) / 36),
  }));
  const path = [{ x: 0, y: 0 }, ...arc, { x: 0, y: 0.5 }];
  const emittersM = Array.from({ length: 29 }, (_, k) => 0.15 + 0.3 * k);
  const laid = bedLayout('bed', [run('bed:1', path, { closed: false, emittersM })], []);
  const cut = (fromM: number, toM: number, rollNumber: number, spliceAtEnd: boolean): Cut => ({
    rollNumber,
    rollLengthM: 30,
    driplineId: 'd',
    runId: 'bed:1',
    fromM,
    toM,
    lengthM: toM - fromM,
    spliceAtEnd,
  });
  const script = layScript({
    layout: laid,
    cuts: [cut(0, 2, 1, true), cut(2, 8.7852, 2, false)],
    spots: spotsRound(laid),
  });
  const [only] = script.runs;

  test('it is a straight to the splice, a straight, a turn left, a straight', () => {
    expect(only!.steps.map((s) => s.kind)).toEqual([
      'begin',
      'straight',
      'splice',
      'straight',
      'turn',
      'straight',
      'end',
    ]);
  });

  test('the splice goes from roll 1 to roll 2 just past emitter 7, which sits at 1.95 m', () => {
    const splice = only!.steps[2]!;
    expect(splice).toMatchObject({ kind: 'splice', fromRoll: 1, toRoll: 2, emitter: 7 });
    expect(splice.pastM).toBeCloseTo(0.05, 6);
  });

  test('the turn goes left through half a circle, half a metre across', () => {
    const turn = only!.steps[4]!;
    if (!('sweepRad' in turn)) throw new Error('the fifth step is a move');
    expect(turn.sweepRad).toBeGreaterThan(2.8);
    expect(turn.chordM).toBeCloseTo(0.5, 1);
  });

  test('a bed with no fixed point in reach is walked all the same, without ties', () => {
    const alone = layScript({ layout: laid, cuts: [], spots: [] });
    expect(alone.pairs).toEqual([]);
    expect(alone.runs[0]!.steps.every((s) => s.tie === null)).toBe(true);
  });
});

test('the pair taken is the one whose tapes cross nearest a right angle', () => {
  const laid = bedLayout(
    'bed',
    [
      run(
        'bed:1',
        [
          { x: 0, y: 5 },
          { x: 1, y: 5 },
        ],
        { closed: false, emittersM: [0.5] },
      ),
    ],
    [],
  );
  // From (-5, 0) and (5, 0) the tapes cross at 90 degrees at (0, 5); any pair with (20, 4) crosses flatter.
  const spots: FixedSpot[] = [
    { id: 'a', at: { x: -5, y: 0 }, rank: 0 },
    { id: 'b', at: { x: 5, y: 0 }, rank: 0 },
    { id: 'c', at: { x: 20, y: 4 }, rank: 0 },
  ];
  const { pairs } = layScript({ layout: laid, cuts: [], spots });
  expect(pairs.map((p) => [p.first.id, p.second.id, p.side])).toEqual([['a', 'b', 'left']]);
});
