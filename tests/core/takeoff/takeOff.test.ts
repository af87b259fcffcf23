import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import type { Join } from '../../../src/core/layout';
import { emptyPlan, plainBed } from '../../../src/core/plan';
import { type CountedBed, supplierOrder, type Takeoff, takeOff } from '../../../src/core/takeoff';
import { bed, header, noSupply, run, zone } from './handMade';

const plan = emptyPlan('hand-counted');
const count = (beds: readonly CountedBed[], supply = noSupply, settings = plan.settings) =>
  takeOff({ plan: { ...plan, settings }, catalog: typicalCatalog, beds, supply });
const quantityOf = (takeoff: Takeoff, part: string) =>
  takeoff.lines.filter((line) => line.part === part).reduce((sum, line) => sum + line.quantity, 0);
const join = (fitting: Join['fitting'], x: number, y: number, runIds: readonly string[]): Join => ({
  fitting,
  x,
  y,
  runIds,
});

// A loop of 2 x (4 + 3) = 14 m, four turns, a stub-up tee at its start and a flush valve at its middle: counted by hand.
const loop = run('a-loop', [
  { x: 0, y: 0 },
  { x: 4, y: 0 },
  { x: 4, y: 3 },
  { x: 0, y: 3 },
  { x: 0, y: 0 },
]);
const loopJoins = [join('stub-up-tee', 0, 0, ['a-loop']), join('flush-valve', 4, 3, ['a-loop'])];

describe('a single loop', () => {
  const takeoff = count([bed('a', [loop], loopJoins)]);

  it('is cut in one piece from one roll of the shortest length that serves', () => {
    // 14 m and 5 % waste: 14.7 m, from a 100 ft roll (30.48 m), 15.78 m left.
    expect(takeoff.cuts).toHaveLength(1);
    expect(takeoff.cuts[0]).toMatchObject({
      rollNumber: 1,
      runId: 'a-loop',
      fromM: 0,
      toM: 14,
      spliceAtEnd: false,
    });
    expect(takeoff.cuts[0]?.lengthM).toBeCloseTo(14.7, 9);
    expect(takeoff.rolls).toEqual([
      { number: 1, driplineId: 'dripline-pc-0.4gph-12in', lengthM: 30.48, leftM: expect.closeTo(15.78, 6) },
    ]);
  });

  it('has one stub-up tee with its riser, one flush valve with its box, and no other fitting', () => {
    for (const part of ['stub-up-tee', 'stub-up-riser', 'flush-valve', 'flush-box']) {
      expect(quantityOf(takeoff, part), part).toBe(1);
    }
    for (const part of ['tubing-tee', 'tubing-elbow', 'tubing-splice', 'tubing-end-cap']) {
      expect(quantityOf(takeoff, part), part).toBe(0);
    }
  });

  it.each([
    // Along 14 m at 3, 4 and 5 ft (0.9144, 1.2192, 1.524 m): 16, 12, 10; and 2 x (4 turns + 2 joins) = 12.
    ['sand', 28],
    ['loam', 24],
    ['clay', 22],
  ])('in %s takes %d staples', (soil, staples) => {
    expect(quantityOf(count([bed('a', [loop], loopJoins, soil)]), 'staple')).toBe(staples);
  });

  it('on a slope takes the staples along it twice', () => {
    const steep = { ...plan, beds: { a: { ...plainBed('a', []), slopeRatio: 0.2 } } };
    const beds = [bed('a', [loop], loopJoins)];
    // 2 x 12 along and 12 at turns and joins.
    expect(
      quantityOf(takeOff({ plan: steep, catalog: typicalCatalog, beds, supply: noSupply }), 'staple'),
    ).toBe(36);
  });

  it('asks the supplier for whole packs of staples', () => {
    const row = supplierOrder(takeoff, typicalCatalog).find((r) => r.part === 'staple');
    expect(row).toMatchObject({ quantity: 1, unit: 'pack', packOf: 100 });
  });

  it('has hours by the rates the designer may change', () => {
    const laying = (t: Takeoff) => t.labour.find((task) => task.task === 'lay-tubing')?.hours;
    expect(laying(takeoff)).toBeCloseTo(0.14, 9);
    expect(
      laying(count([bed('a', [loop], loopJoins)], noSupply, { labourTubingHoursPerM: 0.5 })),
    ).toBeCloseTo(7, 9);
    expect(takeoff.labourHours).toBeCloseTo(
      takeoff.labour.reduce((sum, task) => sum + task.hours, 0),
      12,
    );
  });
});

describe('a single row fed by a lead', () => {
  it('has a coupling with its riser at the lead, and a flush valve with its box at its end', () => {
    // By hand: the header comes up once, so one riser; row and lead meet in one barbed coupling; no tee.
    const row = run('row', [
      { x: 1, y: 0 },
      { x: 9, y: 0 },
    ]);
    const lead = run(
      'lead',
      [
        { x: 0, y: 0 },
        { x: 1, y: 0 },
      ],
      { role: 'lead', emittersM: [] },
    );
    const joins = [join('coupling', 1, 0, ['lead', 'row']), join('flush-valve', 9, 0, ['row'])];
    const takeoff = count([bed('a', [row, lead], joins)]);
    for (const part of ['tubing-coupling', 'stub-up-riser', 'flush-valve', 'flush-box'])
      expect(quantityOf(takeoff, part), part).toBe(1);
    expect(quantityOf(takeoff, 'stub-up-tee')).toBe(0);
  });

  it('has no riser at a coupling between two rows', () => {
    const rows = ['a-row', 'b-row'].map((id, i) =>
      run(id, [
        { x: 4 * i, y: 0 },
        { x: 4 * i + 4, y: 0 },
      ]),
    );
    const takeoff = count([bed('a', rows, [join('coupling', 4, 0, ['a-row', 'b-row'])])]);
    expect(quantityOf(takeoff, 'tubing-coupling')).toBe(1);
    expect(quantityOf(takeoff, 'stub-up-riser')).toBe(0);
  });
});

describe('the cut list', () => {
  const long = (id: string, lengthM: number) =>
    run(id, [
      { x: 0, y: 0 },
      { x: lengthM, y: 0 },
    ]);

  it('equals the routes plus waste within a tenth of a foot', () => {
    const lengths = [12.3, 41.07, 88.8, 17.25, 64.4, 23.19, 105.6, 9.99];
    const takeoff = count([
      bed(
        'a',
        lengths.map((m, i) => long(`r${i}`, m)),
        [],
      ),
    ]);
    const cutM = takeoff.cuts.reduce((sum, cut) => sum + cut.lengthM, 0);
    const routesM = lengths.reduce((sum, m) => sum + m, 0);
    expect(Math.abs(cutM - routesM * 1.05)).toBeLessThan(0.03048);
    const boughtM = takeoff.rolls.reduce((sum, roll) => sum + roll.lengthM, 0);
    const leftM = takeoff.rolls.reduce((sum, roll) => sum + roll.leftM, 0);
    expect(boughtM - leftM).toBeCloseTo(cutM, 6);
    expect(Math.min(...takeoff.rolls.map((roll) => roll.leftM))).toBeGreaterThanOrEqual(-1e-6);
  });

  it('splices a run longer than the longest roll as seldom as can be, two feet from every tee', () => {
    // Longest roll by hand: 1000 ft = 304.8 m lays 290.286 m at 5 % waste. 700 m needs two splices.
    const tee = join('tee', 290.1, 0, ['r']);
    const takeoff = count([bed('a', [long('r', 700)], [tee])]);
    expect(takeoff.cuts.filter((cut) => cut.spliceAtEnd)).toHaveLength(2);
    expect(takeoff.cuts.map((cut) => cut.toM).sort((a, b) => a - b)[0]).toBeCloseTo(290.1 - 0.6096, 6);
    expect(quantityOf(takeoff, 'tubing-splice')).toBe(2);
  });

  it('says so where no splice can keep two feet from a tee', () => {
    const tees = Array.from({ length: 700 }, (_, i) => join('tee', i + 0.5, 0, ['r']));
    expect(count([bed('a', [long('r', 700)], tees)]).problems.map((p) => p.code)).toContain(
      'takeoff.splice-near-tee',
    );
  });

  it('takes plain leads from blank tubing', () => {
    const lead = run(
      'lead',
      [
        { x: 0, y: 0 },
        { x: 0, y: 2 },
      ],
      { role: 'lead', emittersM: [] },
    );
    const takeoff = count([bed('a', [loop, lead], loopJoins)]);
    expect(takeoff.cuts.find((cut) => cut.runId === 'lead')?.driplineId).toMatch(/^blank-tubing/);
  });
});

describe('pipe', () => {
  it('has its fittings counted from where pipes meet', () => {
    // One header that bends once, branches at (10, 10) into two that run on and off: 1 elbow, 1 tee, one stub off a smaller pipe (1 reducer).
    const pipes = [
      header(
        'h1',
        [
          { x: 0, y: 0 },
          { x: 10, y: 0 },
          { x: 10, y: 10 },
        ],
        'pvc-sch40-1',
      ),
      header(
        'h2',
        [
          { x: 10, y: 10 },
          { x: 10, y: 14 },
        ],
        'pvc-sch40-1',
      ),
      header(
        'h3',
        [
          { x: 10, y: 10 },
          { x: 13, y: 10 },
        ],
        'pvc-sch40-3.4',
      ),
    ];
    const takeoff = count([], { ...noSupply, zones: [zone(1, ['a'], pipes)] });
    expect(quantityOf(takeoff, 'pvc-elbow')).toBe(1);
    expect(quantityOf(takeoff, 'pvc-tee')).toBe(1);
    expect(quantityOf(takeoff, 'pvc-reducer')).toBe(1);
    // 1 in: 24 m and 5 % waste = 25.2 m, 20 ft sticks (6.096 m): 5. The 20 m stretch is 4 sticks: 3 couplings. 3/4 in: 3.15 m: 1.
    expect(quantityOf(takeoff, 'pvc-sch40-1')).toBe(5);
    expect(quantityOf(takeoff, 'pvc-sch40-3.4')).toBe(1);
    expect(quantityOf(takeoff, 'pvc-coupling')).toBe(3);
    expect(quantityOf(takeoff, 'assembly-low-flow-15psi')).toBe(1);
    expect(quantityOf(takeoff, 'box-12in')).toBe(1);
    // Welds: tee 3, elbow 2, reducer 2, couplings 6: one can.
    expect(quantityOf(takeoff, 'glue')).toBe(1);
  });
});

describe('cost', () => {
  it('adds what has a price and says how much it leaves out', () => {
    const catalog = {
      ...typicalCatalog,
      driplines: typicalCatalog.driplines.map((part) => ({
        ...part,
        order: { price: 0.5, partNumber: 'D-1' },
      })),
    };
    const dripline = catalog.driplines.find((part) => part.id === 'dripline-pc-0.4gph-12in')!;
    const beds = [{ ...bed('a', [loop], loopJoins), dripline }];
    const takeoff = takeOff({ plan, catalog, beds, supply: noSupply });
    // One roll of 30.48 m at 0.50 a metre.
    expect(takeoff.cost).toBeCloseTo(15.24, 9);
    expect(takeoff.problems.map((p) => p.code)).toEqual(['takeoff.unpriced']);
    expect(supplierOrder(takeoff, catalog)[0]).toMatchObject({
      partNumber: 'D-1',
      quantity: 1,
      unit: 'roll',
    });
  });

  it('is left blank where nothing has a price', () => {
    expect(count([bed('a', [loop], loopJoins)]).cost).toBeNull();
  });
});
