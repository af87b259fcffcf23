import { expect, test } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { createDesignCache, keepRoute, routedBeds, wantedRoutes } from '../../../src/core/design';
import { type BedLayout, layoutBed } from '../../../src/core/layout';
import { applyCommand, type Plan } from '../../../src/core/plan';
import { tenBeds } from '../../bench/tenBeds';

/** The one bed of ten whose corner is dragged, as it lies after a move of the hand. */
function draggedTo(plan: Plan, x: number, y: number): Plan {
  const applied = applyCommand(plan, {
    name: 'move-corner',
    params: { id: 'bed-3', ringIndex: 0, pointIndex: 1, to: { x, y } },
  });
  if (!applied.ok) throw new Error('the corner can be moved');
  return applied.value.plan;
}

/** The finished layout of one bed, and those of its drag through these places, each routed with what is remembered of the one before. */
function drag(places: readonly (readonly [number, number])[]): {
  readonly finished: BedLayout;
  readonly laid: readonly BedLayout[];
} {
  const { 'bed-3': bed } = tenBeds().beds;
  const plan: Plan = { ...tenBeds(), beds: { 'bed-3': bed! } };
  const cache = createDesignCache();
  const [finished] = routedBeds(plan, typicalCatalog, { quality: 'finished', cache });
  const laid = places.map(([x, y]) => {
    const moved = draggedTo(plan, x, y);
    for (const route of wantedRoutes(moved, typicalCatalog, 'preview', cache))
      keepRoute(cache, route, layoutBed(route.input));
    return routedBeds(moved, typicalCatalog, { quality: 'preview', cache })[0]!.layout;
  });
  return { finished: finished!.layout, laid };
}

test('a dragged corner is followed at every move, by the next loop where the last one does not pass: all kinds are compared at none', () => {
  // A hand's small circles about the corner, with a jump back every seventh move.
  const places = Array.from(
    { length: 60 },
    (_, move) => [33 + 0.27 * Math.sin((move + 1) / 3), -0.33 - ((move + 1) % 7) / 30] as const,
  );
  const { finished, laid } = drag(places);
  expect(finished.layout).toBe('loop');
  // At some places the rows as they lay last do not pass here, and others are found.
  expect(new Set(laid.map((layout) => layout.memory?.topology)).size).toBeGreaterThan(1);
  for (const layout of laid) {
    expect(layout.verified.failures).toEqual([]);
    expect(layout.coverage.coveredRatio).toBeGreaterThan(0.93);
    expect(layout.alternatives).toEqual([]);
  }
});
