import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyCommand,
  type Command,
  emptyPlan,
  type History,
  type Plan,
  perform,
  plainBed,
  redo,
  replay,
  startHistory,
  undo,
} from '../../../src/core/plan';

const square = (id: string) =>
  plainBed(id, [
    {
      points: [
        { x: 0, y: 0 },
        { x: 4, y: 0 },
        { x: 4, y: 3 },
        { x: 0, y: 3 },
      ],
      edges: (['paving', 'foundation', null, 'lawn'] as const).map((kind, i) => ({
        class: kind,
        offsetM: null,
        sagittaM: i === 1 ? 0.2 : 0,
      })),
    },
  ]);
const planWithBed = (): Plan => ({ ...emptyPlan('p1'), beds: { a: square('a') } });
const must = (plan: Plan, command: Command): Plan => {
  const result = applyCommand(plan, command);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value.plan;
};

describe('changing the plan by commands', () => {
  it('a moved corner changes that bed and leaves every other item identical', () => {
    const plan: Plan = {
      ...planWithBed(),
      trees: { t: { id: 't', name: '', at: { x: 9, y: 9 }, trunkRadiusM: 0.1, canopyRadiusM: 2 } },
    };
    const next = must(plan, {
      name: 'move-corner',
      params: { id: 'a', ringIndex: 0, pointIndex: 2, to: { x: 5, y: 3.5 } },
    });
    expect(next.beds.a?.rings[0]?.points[2]).toEqual({ x: 5, y: 3.5 });
    expect(next.trees).toBe(plan.trees);
    expect(plan.beds.a?.rings[0]?.points[2]).toEqual({ x: 4, y: 3 });
  });

  it('a corner put into a paved edge leaves both halves paved', () => {
    const next = must(planWithBed(), {
      name: 'insert-corner',
      params: { id: 'a', ringIndex: 0, pointIndex: 0, at: { x: 2, y: -1 } },
    });
    expect(next.beds.a?.rings[0]?.points[1]).toEqual({ x: 2, y: -1 });
    expect(next.beds.a?.rings[0]?.edges.map((edge) => edge.class)).toEqual([
      'paving',
      'paving',
      'foundation',
      null,
      'lawn',
    ]);
  });

  it('a mirrored bed keeps each edge with its class and its arc, and still runs anticlockwise', () => {
    const next = must(planWithBed(), {
      name: 'mirror-items',
      params: { items: [{ map: 'beds', id: 'a' }], from: { x: 0, y: 0 }, to: { x: 0, y: 1 } },
    });
    const ring = next.beds.a?.rings[0];
    const found = ring?.points.map((p, i) => {
      const q = ring.points[(i + 1) % ring.points.length] ?? p;
      return { from: p, to: q, kind: ring.edges[i]?.class, sagittaM: ring.edges[i]?.sagittaM };
    });
    // By hand: the foundation edge x = 4 lands on x = -4, and downwards it stays outwards of the bed.
    expect(found).toContainEqual({
      from: { x: -4, y: 3 },
      to: { x: -4, y: 0 },
      kind: 'foundation',
      sagittaM: 0.2,
    });
    const area2 = (ring?.points ?? []).reduce((sum, p, i, all) => {
      const q = all[(i + 1) % all.length] ?? p;
      return sum + p.x * q.y - q.x * p.y;
    }, 0);
    expect(area2 / 2).toBeCloseTo(12, 12);
  });

  it('a value the schema forbids is refused and the plan stays identical', () => {
    const plan = planWithBed();
    const result = applyCommand(plan, { name: 'set-bed', params: { id: 'a', changes: { rowSpacingM: -1 } } });
    expect(result.ok).toBe(false);
    expect(result.problems[0]).toMatchObject({
      code: 'plan.bad-value',
      where: { id: 'a', path: 'rowSpacingM' },
    });
    expect(
      applyCommand(plan, { name: 'set-bed', params: { id: 'nobody', changes: {} } }).problems[0]?.code,
    ).toBe('plan.no-such-item');
    expect(applyCommand(plan, { name: 'set-setting', params: { key: '__proto__', value: 1 } }).ok).toBe(
      false,
    );
  });

  it('removing a bed removes the dimensions tied to it and keeps the free ones', () => {
    const free = { kind: 'free' as const, at: { x: 0, y: 0 } };
    const plan: Plan = {
      ...planWithBed(),
      dimensions: {
        d1: {
          id: 'd1',
          from: free,
          to: { kind: 'corner', itemId: 'a', ringIndex: 0, pointIndex: 1 },
          asideM: 0.5,
        },
        d2: { id: 'd2', from: free, to: free, asideM: 0.5 },
      },
    };
    const next = must(plan, { name: 'remove-items', params: { items: [{ map: 'beds', id: 'a' }] } });
    expect(Object.keys(next.beds)).toEqual([]);
    expect(Object.keys(next.dimensions)).toEqual(['d2']);
  });
});

describe('undo', () => {
  const commandArb: fc.Arbitrary<Command> = fc.oneof(
    fc
      .record({
        x: fc.double({ min: -50, max: 50, noNaN: true }),
        y: fc.double({ min: -50, max: 50, noNaN: true }),
        i: fc.nat(3),
      })
      .map(({ x, y, i }) => ({
        name: 'move-corner' as const,
        params: { id: 'a', ringIndex: 0, pointIndex: i, to: { x, y } },
      })),
    fc.nat(3).map((i) => ({
      name: 'insert-corner' as const,
      params: { id: 'a', ringIndex: 0, pointIndex: i, at: { x: i, y: i } },
    })),
    fc
      .nat(5)
      .map((i) => ({ name: 'remove-corner' as const, params: { id: 'a', ringIndex: 0, pointIndex: i } })),
    fc.constantFrom('a', 'b', 'c').map((id) => ({
      name: 'put-item' as const,
      params: { map: 'beds', item: square(id) as unknown as Record<string, unknown> },
    })),
    fc
      .constantFrom('b', 'c')
      .map((id) => ({ name: 'remove-items' as const, params: { items: [{ map: 'beds', id }] } })),
    fc.double({ min: -3, max: 3, noNaN: true }).map((angleRad) => ({
      name: 'turn-items' as const,
      params: { items: [{ map: 'beds', id: 'a' }], about: { x: 1, y: 1 }, angleRad },
    })),
    fc
      .double({ min: 0, max: 2, noNaN: true })
      .map((value) => ({ name: 'set-setting' as const, params: { key: 'rowStretchRatio', value } })),
  );

  it('taking back every edit returns the identical plan, and doing all again the identical end', () => {
    fc.assert(
      fc.property(fc.array(commandArb, { maxLength: 30 }), (commands) => {
        const start = startHistory(planWithBed());
        let history: History = start;
        for (const command of commands) {
          const result = perform(history, command);
          if (result.ok) history = result.value.history;
        }
        const end = history.plan;
        const journal = history.past.map((entry) => entry.forward);
        for (let back = undo(history); back !== null; back = undo(history)) history = back.history;
        expect(history.plan).toBe(start.plan);
        for (let again = redo(history); again !== null; again = redo(history)) history = again.history;
        expect(history.plan).toBe(end);
        expect(replay(start.plan, journal)).toEqual(end);
      }),
      { numRuns: 200, seed: 20_261 },
    );
  });

  it('keeps at least a thousand edits', () => {
    let history = startHistory(planWithBed());
    for (let i = 0; i < 1000; i += 1) {
      const result = perform(history, {
        name: 'set-setting',
        params: { key: 'mulchDepthM', value: i / 1000 + 0.001 },
      });
      if (result.ok) history = result.value.history;
    }
    expect(history.past.length).toBe(1000);
  });
});

describe('what is tied to a bed follows it', () => {
  const dimension = {
    id: 'd',
    from: { kind: 'corner', itemId: 'a', ringIndex: 0, pointIndex: 1 },
    to: { kind: 'corner', itemId: 'a', ringIndex: 0, pointIndex: 3 },
    asideM: 0.5,
  } as const;
  const tied = (): Plan => ({ ...planWithBed(), dimensions: { d: dimension } });
  const ends = (plan: Plan) => {
    const found = plan.dimensions.d;
    return [found?.from, found?.to].map((end) =>
      end?.kind === 'corner'
        ? plan.beds[end.itemId]?.rings[end.ringIndex]?.points[end.pointIndex]
        : undefined,
    );
  };

  it('a dimension keeps its corners when another corner is put in before them', () => {
    const plan = must(tied(), {
      name: 'insert-corner',
      params: { id: 'a', ringIndex: 0, pointIndex: 0, at: { x: 2, y: 0 } },
    });
    expect(ends(plan)).toEqual([
      { x: 4, y: 0 },
      { x: 0, y: 3 },
    ]);
  });

  it('a dimension goes with a corner that goes, and keeps its own when another goes', () => {
    const remove = (pointIndex: number): Command => ({
      name: 'remove-corner',
      params: { id: 'a', ringIndex: 0, pointIndex },
    });
    expect(must(tied(), remove(1)).dimensions).toEqual({});
    expect(ends(must(tied(), remove(0)))).toEqual([
      { x: 4, y: 0 },
      { x: 0, y: 3 },
    ]);
  });

  it('a mirrored bed keeps its arc bulging outwards, on the edge that is foundation, and its dimension on its corners', () => {
    // mirrored about the line x = 0: the edge x = 4, y 0 to 3 comes to x = -4; its height of 0.2 m stays to the outside
    const plan = must(tied(), {
      name: 'mirror-items',
      params: { items: [{ map: 'beds', id: 'a' }], from: { x: 0, y: 0 }, to: { x: 0, y: 1 } },
    });
    const ring = plan.beds.a!.rings[0]!;
    const arc = ring.edges.findIndex((edge) => edge.sagittaM !== 0);
    expect(ring.edges[arc]).toMatchObject({ class: 'foundation', sagittaM: 0.2 });
    const from = ring.points[arc]!;
    const to = ring.points[(arc + 1) % 4]!;
    expect([from.x, to.x].map((x) => x + 0)).toEqual([-4, -4]);
    // a positive height lies right of the edge's way: at x = -4 the outside is west, and west is right of south
    expect(to.y).toBeLessThan(from.y);
    expect(ends(plan)).toEqual([
      { x: -4, y: 0 },
      { x: 0, y: 3 },
    ]);
  });

  it('a picture moves and turns with its own corner', () => {
    const picture = {
      id: 'u',
      name: '',
      kind: 'picture' as const,
      dataUri: '',
      lines: [],
      originX: 1,
      originY: 2,
      metresPerPixel: 0.1,
      turnRad: 0,
      fadeRatio: 0,
      locked: false,
      widthPx: 10,
      heightPx: 10,
    };
    const plan: Plan = { ...emptyPlan('p'), underlays: { u: picture } };
    const items = [{ map: 'underlays', id: 'u' }];
    const moved = must(plan, { name: 'move-items', params: { items, dx: 3, dy: -1 } });
    expect(moved.underlays.u).toMatchObject({ originX: 4, originY: 1 });
    const turned = must(plan, {
      name: 'turn-items',
      params: { items, about: { x: 0, y: 0 }, angleRad: Math.PI / 2 },
    });
    // (1, 2) turned a quarter to the left about the datum is (-2, 1)
    expect(turned.underlays.u?.originX).toBeCloseTo(-2, 12);
    expect(turned.underlays.u?.originY).toBeCloseTo(1, 12);
    expect(turned.underlays.u?.turnRad).toBeCloseTo(Math.PI / 2, 12);
  });
});
