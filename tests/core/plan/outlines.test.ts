import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyCommand,
  areaShape,
  asDrawn,
  type Command,
  type DrawnOutline,
  emptyPlan,
  flattened,
  outlinesOf,
  type Plan,
  perform,
  startHistory,
  undo,
} from '../../../src/core/plan';

const square = [
  { x: 0, y: 0 },
  { x: 4, y: 0 },
  { x: 4, y: 3 },
  { x: 0, y: 3 },
];
const straight = { sagittaM: 0 };

/** A house of 4 x 3 m with a dimension between two of its corners, a walk of three places, and a buried line. */
function site(): Plan {
  const base = { name: '', clearanceM: null };
  return {
    ...emptyPlan('corners'),
    structures: {
      house: {
        ...base,
        id: 'house',
        kind: 'building',
        shape: areaShape({ points: square, edges: square.map(() => straight), isClosed: true }),
      },
      walk: {
        ...base,
        id: 'walk',
        kind: 'paving',
        shape: { kind: 'line', path: [square[0]!, square[1]!, square[2]!], widthM: 1.2 },
      },
    },
    utilities: { gas: { id: 'gas', name: '', path: [square[0]!, square[2]!], depthM: 0.6 } },
    dimensions: {
      wide: {
        id: 'wide',
        from: { kind: 'corner', itemId: 'house', ringIndex: 0, pointIndex: 2 },
        to: { kind: 'corner', itemId: 'house', ringIndex: 0, pointIndex: 3 },
        asideM: 0.5,
      },
    },
  };
}

const done = (plan: Plan, command: Command): Plan => {
  const applied = applyCommand(plan, command);
  if (!applied.ok) throw new Error(applied.problems[0]?.code);
  return applied.value.plan;
};
const refusal = (plan: Plan, command: Command): string | undefined => {
  const applied = applyCommand(plan, command);
  return applied.ok ? undefined : applied.problems[0]?.code;
};
const at = (map: string, id: string, pointIndex: number) => ({ map, id, ringIndex: 0, pointIndex });
const house = (pointIndex: number) => at('structures', 'house', pointIndex);
const arc = (plan: Plan, sagittaM: number, pointIndex = 0): Plan =>
  done(plan, { name: 'set-edge', params: { ...house(pointIndex), changes: { sagittaM } } });
const ringOf = (plan: Plan) => {
  const shape = plan.structures.house?.shape;
  if (shape?.kind !== 'area') throw new Error('the house is an area');
  return shape.rings[0]!;
};
const areaM2 = (ring: readonly { x: number; y: number }[]): number =>
  ring.reduce((sum, a, index) => {
    const b = ring[(index + 1) % ring.length]!;
    return sum + (a.x * b.y - b.x * a.y) / 2;
  }, 0);

describe('corners of anything drawn', () => {
  it('a corner of a building is moved, and back by one undo to the very same plan', () => {
    const history = startHistory(site());
    const moved = perform(history, { name: 'move-corner', params: { ...house(2), to: { x: 5, y: 4 } } });
    if (!moved.ok) throw new Error('the corner can be moved');
    expect(ringOf(moved.value.history.plan)[2]).toEqual({ x: 5, y: 4 });
    expect(undo(moved.value.history)?.history.plan).toEqual(history.plan);
  });

  it('a corner put into a building’s edge, or taken away, leaves a dimension where it was tied', () => {
    const more = done(site(), { name: 'insert-corner', params: { ...house(0), at: { x: 2, y: -1 } } });
    expect(ringOf(more)).toHaveLength(5);
    expect(more.dimensions.wide).toMatchObject({ from: { pointIndex: 3 }, to: { pointIndex: 4 } });
    const back = done(more, { name: 'remove-corner', params: house(1) });
    expect(back).toEqual(site());
    const untied = done(site(), { name: 'remove-corner', params: house(2) });
    expect(untied.dimensions).toEqual({});
    expect(refusal(untied, { name: 'remove-corner', params: house(0) })).toBe('plan.too-few-corners');
  });

  it('an edge of a building becomes an arc that is stored as points, and a straight edge again', () => {
    const bent = arc(site(), 1);
    const ring = ringOf(bent);
    expect(ring.length).toBeGreaterThan(8);
    // by hand: a segment of height 1 m on a 4 m chord has r = 16/8 + 1/2 = 2.5 m, half angle acos(1.5/2.5) and so
    // r^2 (t - sin t cos t) = 2.7956 m2 beside the 12 m2; chords may stray 1 mm
    expect(areaM2(ring)).toBeCloseTo(14.7956, 2);
    const [outline] = outlinesOf(bent, 'structures', 'house');
    expect(outline?.points).toEqual(square);
    expect(outline?.edges.map((edge) => edge.sagittaM)).toEqual([1, 0, 0, 0]);
    const tied = bent.dimensions.wide!.from;
    expect(tied.kind === 'corner' && ring[tied.pointIndex]).toEqual(square[2]);
    expect(arc(bent, 0)).toEqual(site());
  });

  it('an arc keeps its height while its ends are moved, also where it leads back to the first corner', () => {
    const bent = arc(arc(site(), 0.5), 0.4, 3);
    const moved = done(bent, { name: 'move-corner', params: { ...house(0), to: { x: -1, y: -1 } } });
    const [outline] = outlinesOf(moved, 'structures', 'house');
    expect(outline?.points).toEqual([{ x: -1, y: -1 }, ...square.slice(1)]);
    expect(outline?.edges.map((edge) => edge.sagittaM)).toEqual([0.5, 0, 0, 0.4]);
  });

  it('arcs stay arcs when the thing is moved, turned or mirrored, and bulge where they did', () => {
    const bent = arc(site(), 0.7);
    const items = [{ map: 'structures', id: 'house' }];
    const across = { from: { x: 0, y: 0 }, to: { x: 1, y: 2 } };
    const moved = done(bent, { name: 'move-items', params: { items, dx: 3, dy: -2 } });
    const turned = done(moved, {
      name: 'turn-items',
      params: { items, about: { x: 1, y: 1 }, angleRad: 0.3 },
    });
    const mirrored = done(turned, { name: 'mirror-items', params: { items, ...across } });
    for (const plan of [moved, turned, mirrored]) {
      expect(outlinesOf(plan, 'structures', 'house')[0]?.points).toHaveLength(4);
      expect(Math.abs(areaM2(ringOf(plan)))).toBeCloseTo(areaM2(ringOf(bent)), 6);
    }
    const again = done(mirrored, {
      name: 'move-corner',
      params: { ...house(2), to: ringOf(mirrored).at(-2)! },
    });
    expect(Math.abs(areaM2(ringOf(again)))).toBeCloseTo(areaM2(ringOf(bent)), 6);
  });

  it('a walk and a buried line are edited by the places they lead through; two ends are left', () => {
    const walk = (pointIndex: number) => at('structures', 'walk', pointIndex);
    const short = done(site(), { name: 'remove-corner', params: walk(2) });
    expect(short.structures.walk?.shape).toEqual({ kind: 'line', path: square.slice(0, 2), widthM: 1.2 });
    expect(refusal(short, { name: 'remove-corner', params: walk(0) })).toBe('plan.too-few-bends');
    expect(refusal(site(), { name: 'set-edge', params: { ...walk(2), changes: { sagittaM: 1 } } })).toBe(
      'plan.no-such-corner',
    );
    const gas = at('utilities', 'gas', 0);
    const bent = done(site(), { name: 'set-edge', params: { ...gas, changes: { sagittaM: -1 } } });
    expect(outlinesOf(bent, 'utilities', 'gas')[0]?.edges).toEqual([{ sagittaM: -1 }]);
    expect(bent.utilities.gas!.path.length).toBeGreaterThan(5);
  });

  it('what only a bed’s edge has is refused elsewhere, and a boulder has no corners', () => {
    const changes = { class: 'lawn' };
    expect(refusal(site(), { name: 'set-edge', params: { ...house(0), changes } })).toBe(
      'plan.bad-parameters',
    );
    const shape = { kind: 'disc' as const, at: square[0]!, radiusM: 0.5 };
    const boulder = { id: 'rock', name: '', kind: 'obstacle' as const, clearanceM: null, shape };
    const plan = { ...site(), structures: { rock: boulder } };
    expect(outlinesOf(plan, 'structures', 'rock')).toEqual([]);
    expect(
      refusal(plan, { name: 'move-corner', params: { ...at('structures', 'rock', 0), to: { x: 0, y: 0 } } }),
    ).toBe('plan.no-such-item');
  });

  it('points that are an arc’s no more are corners like any other', () => {
    const bent = arc(site(), 1);
    const ring = ringOf(bent).map((point, index) => (index === 3 ? { x: point.x, y: point.y - 0.2 } : point));
    const shape = { ...bent.structures.house!.shape, kind: 'area' as const, rings: [ring] };
    const plan: Plan = { ...bent, structures: { house: { ...bent.structures.house!, shape } } };
    expect(outlinesOf(plan, 'structures', 'house')[0]?.points).toEqual(ring);
  });

  it('whatever is drawn is read back as it was drawn', () => {
    const drawn = fc
      .array(
        fc.record({
          x: fc.double({ min: -50, max: 50, noNaN: true }),
          y: fc.double({ min: -50, max: 50, noNaN: true }),
          sagittaM: fc.oneof(fc.constant(0), fc.double({ min: -6, max: 6, noNaN: true })),
        }),
        { minLength: 3, maxLength: 9 },
      )
      .map(
        (corners): DrawnOutline => ({
          points: corners.map(({ x, y }) => ({ x, y })),
          edges: corners.map(({ sagittaM }) => ({ sagittaM: Math.abs(sagittaM) < 0.01 ? 0 : sagittaM })),
          isClosed: true,
        }),
      );
    fc.assert(
      fc.property(drawn, (outline) => {
        const { points, arcs } = flattened(outline, 0);
        const read = asDrawn(points, arcs, true).outline;
        expect(read.points).toEqual(outline.points);
        // Nearer than the grid of a drawing, two corners are one.
        const isPoint = (index: number): boolean => {
          const [a, b] = [outline.points[index]!, outline.points[(index + 1) % outline.points.length]!];
          return Math.hypot(a.x - b.x, a.y - b.y) < 1e-4;
        };
        read.edges.forEach((edge, index) => {
          if (!isPoint(index)) expect(edge).toEqual(outline.edges[index]);
        });
      }),
      { numRuns: 200 },
    );
  });
});
