import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { createDesignCache, designPlan, keepRoute, wantedRoutes } from '../../../src/core/design';
import { layoutBed } from '../../../src/core/layout';
import { emptyPlan, type Plan, plainBed } from '../../../src/core/plan';

const withBed = (widthM: number, title = ''): Plan => {
  const points = [
    { x: 0, y: 0 },
    { x: widthM, y: 0 },
    { x: widthM, y: 1.5 },
    { x: 0, y: 1.5 },
  ];
  const ring = { points, edges: points.map(() => ({ class: null, offsetM: null, sagittaM: 0 })) };
  const plan = emptyPlan('garden');
  return {
    ...plan,
    project: { ...plan.project, title },
    beds: { bed: { ...plainBed('bed', [ring], 'Bed'), zoneKey: 'one' } },
  };
};
const routed = (plan: Plan, quality: 'preview' | 'finished', cache = createDesignCache()) => {
  for (const wanted of wantedRoutes(plan, typicalCatalog, quality, cache))
    keepRoute(cache, wanted, layoutBed(wanted.input));
  return cache;
};

describe('routes found beside the pipeline', () => {
  it('a finished route is asked for without any memory of what was drawn before, a preview with it', () => {
    const cache = routed(withBed(2), 'preview');
    const dragged = withBed(2.4);
    expect(wantedRoutes(dragged, typicalCatalog, 'preview', cache)[0]?.input.previous).not.toBeNull();
    expect(wantedRoutes(dragged, typicalCatalog, 'finished', cache)[0]?.input.previous).toBeNull();
  });

  it('once they are kept, the design asks the router nothing and is the design it would have made alone', () => {
    const plan = withBed(2);
    const cache = routed(plan, 'finished');
    expect(wantedRoutes(plan, typicalCatalog, 'finished', cache)).toEqual([]);
    const asked = cache.counts.route;
    const design = designPlan(plan, typicalCatalog, { quality: 'finished', cache });
    expect(cache.counts.route).toBe(asked);
    expect(design.beds[0]?.layout).toEqual(
      designPlan(plan, typicalCatalog, { quality: 'finished' }).beds[0]?.layout,
    );
  });

  it('a finished route serves a preview after a change that does not touch its ground', () => {
    const plan = withBed(2);
    const cache = routed(plan, 'finished');
    const tree = { ...plan, trees: { ...plan.trees } };
    expect(wantedRoutes(tree, typicalCatalog, 'preview', cache)).toEqual([]);
  });
});
