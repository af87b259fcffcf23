import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import {
  compareWays,
  createDesignCache,
  type Design,
  designPlan,
  planOfWay,
  type WaysCompared,
  wayFigures,
} from '../../../src/core/design';
import { drawWays, measureOverlaps } from '../../../src/core/drawing';
import { waysCsv } from '../../../src/core/exchange';
import { type Command, type Plan, plainBed, readPlan } from '../../../src/core/plan';

const file = new URL('../../../assets/demonstration.rillsheet.json', import.meta.url);

/** The demonstration's house strip, and two small square beds on its lawn: quick to route. */
function smallSite(): Plan {
  const read = readPlan(readFileSync(file, 'utf8'), 'demonstration');
  if (!read.ok) throw new Error('the demonstration plan reads');
  const square = (id: string, x: number) => ({
    ...plainBed(id, [
      {
        points: [
          { x, y: 4 },
          { x: x + 3, y: 4 },
          { x: x + 3, y: 6 },
          { x, y: 6 },
        ],
        edges: [0, 1, 2, 3].map(() => ({ class: null, offsetM: null, sagittaM: 0 })),
      },
    ]),
    name: id,
    rowSpacingM: 0.4572,
  });
  return {
    ...read.value,
    plants: {},
    beds: { one: square('one', 4), two: square('two', 10), 'bed-c': read.value.beds['bed-c']! },
  };
}

const WIDER: readonly Command[] = [
  { name: 'set-bed', params: { id: 'one', changes: { rowSpacingM: 0.6096 } } },
  { name: 'set-bed', params: { id: 'two', changes: { zoneKey: 'alone' } } },
];

describe('a way with wider rows in one bed and another bed on a valve of its own', () => {
  const plan = smallSite();
  let first: Design;
  let second: Design;
  let compared: WaysCompared;
  beforeAll(() => {
    const way = planOfWay(plan, WIDER);
    if (!way.ok) throw new Error('the commands apply');
    const cache = createDesignCache();
    first = designPlan(plan, typicalCatalog, { quality: 'preview', cache });
    second = designPlan(way.value, typicalCatalog, { quality: 'preview', cache });
    compared = compareWays(first, second);
  }, 120_000);

  test('the plan it is a way of stays as it was', () => {
    expect(plan.beds.one!.rowSpacingM).toBe(0.4572);
  });

  test('each figure is what the design by itself says', () => {
    for (const [side, design] of [
      [compared.first, first],
      [compared.second, second],
    ] as const) {
      const { figures } = side;
      expect(figures).toEqual(wayFigures(design));
      const tubing = design.takeoff.labour.find((row) => row.task === 'lay-tubing')!;
      expect(figures.tubingM).toBeCloseTo(tubing.quantity, 6);
      const joins = design.takeoff.labour.find((row) => row.task === 'make-joins')!;
      expect(figures.fittings).toBe(joins.quantity);
      expect(figures.labourHours).toBe(design.takeoff.labourHours);
      expect(figures.valves).toBe(design.supply.zones.length);
      const heads = design.supply.zones.flatMap((zone) => [...zone.emitters.headM]);
      expect(figures.leastHeadM).toBeCloseTo(Math.min(...heads), 9);
      expect(figures.uniformityRatio).toBe(
        Math.min(...design.supply.zones.map((zone) => zone.emissionUniformity)),
      );
      // By the calendar: minutes a day times days a week times weeks a month of the zone's flow.
      const daysOf = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
      const byMinutes = design.schedule.zones
        .flatMap((zone) =>
          zone.months.map(
            (m) => ((m.minutesPerDay * 60 * m.daysPerWeek * daysOf[m.month - 1]!) / 7) * zone.flowM3s,
          ),
        )
        .reduce((sum, m3) => sum + m3, 0);
      expect(figures.waterYearM3 / byMinutes).toBeGreaterThan(0.97);
      expect(figures.waterYearM3 / byMinutes).toBeLessThan(1.03);
    }
  });

  test('only the bed with wider rows has tubing that differs, and it takes less', () => {
    const beds = (side: WaysCompared['first']): string[] => [...new Set(side.runs.map((run) => run.bedId))];
    expect(beds(compared.first)).toEqual(['one']);
    expect(beds(compared.second)).toEqual(['one']);
    expect(compared.second.figures.tubingM).toBeLessThan(compared.first.figures.tubingM);
    for (const stretch of [...compared.first.stretches, ...compared.second.stretches])
      expect(stretch.bedId).toBe('one');
  });

  test('the beds that change company are the two that shared a valve', () => {
    const mates = (design: Design, id: string): string[] =>
      design.supply.zones
        .filter((zone) => zone.bedIds.includes(id))
        .flatMap((zone) => [...zone.bedIds])
        .sort();
    const wanted = ['bed-c', 'one', 'two'].filter(
      (id) => JSON.stringify(mates(first, id)) !== JSON.stringify(mates(second, id)),
    );
    expect(wanted).toContain('two');
    expect(compared.regroupedBeds).toEqual(wanted);
  });

  test('a design weighed against itself differs in nothing', () => {
    const same = compareWays(first, first);
    expect(same.first.runs).toEqual([]);
    expect(same.second.stretches).toEqual([]);
    expect(same.regroupedBeds).toEqual([]);
  });

  test('the page shows both at one scale, and its lettering is clear', () => {
    const list = drawWays(first, second, compared, { first: 'As drawn', second: 'Wider rows' });
    expect(list.pages.length).toBe(1);
    expect(list.pages[0]!.scaleDenominator).toBeGreaterThan(1);
    expect(measureOverlaps(list.pages[0]!)).toEqual({ textOnText: [], textOnLine: [], textOffPage: [] });
  });

  test('the table says the difference with its sign', () => {
    const rows = waysCsv(first, compared, { first: 'a', second: 'b' }).split('\r\n');
    const [, a, b, difference] = rows.find((row) => row.startsWith('Tubing'))!.split(',');
    expect(Number.parseFloat(b!) - Number.parseFloat(a!)).toBeCloseTo(
      Number.parseFloat(difference!.replace("'", '')),
      0,
    );
  });
});

test('a way with a command that cannot be done is refused, and says which', () => {
  const refused = planOfWay(smallSite(), [{ name: 'set-bed', params: { id: 'nowhere', changes: {} } }]);
  expect(refused.ok).toBe(false);
  if (!refused.ok) expect(refused.problems[0]!.code).toBe('plan.no-such-item');
});
