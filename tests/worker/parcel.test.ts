import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../src/core/catalog';
import { createDesignCache, designPlan } from '../../src/core/design';
import { emptyPlan, type Plan, plainBed, plainSource } from '../../src/core/plan';
import { memoryOf, NOTHING_SENT, packDesign, unpackDesign } from '../../src/worker';

const points = [
  { x: 0, y: 0 },
  { x: 4, y: 0 },
  { x: 4, y: 3 },
  { x: 0, y: 3 },
];
const edges = points.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
const plan: Plan = {
  ...emptyPlan('garden', 'metric'),
  beds: { one: plainBed('one', [{ points, edges }]) },
  sources: {
    tap: { ...plainSource('tap', { x: -2, y: 1 }), staticHeadM: 40, flowTestM3s: 5e-4, flowTestHeadM: 34 },
  },
};

describe('a design on its way to the window', () => {
  it('crosses without its networks while it is a preview, and whole once it is finished', () => {
    const cache = createDesignCache();
    const preview = designPlan(plan, typicalCatalog, { quality: 'preview', cache });
    const nodes = preview.supply.zones[0]?.network.nodes.length ?? 0;
    expect(nodes).toBeGreaterThan(10);

    const first = packDesign(preview, NOTHING_SENT);
    const shown = unpackDesign(first, NOTHING_SENT, plan, typicalCatalog);
    expect(shown.supply.zones[0]?.network.nodes).toEqual([]);
    expect(shown.supply.zones[0]?.solution.status).toBe('settled');
    expect(shown.supply.zones[0]?.emitters).toEqual(preview.supply.zones[0]?.emitters);

    const sent = memoryOf(preview, first, NOTHING_SENT);
    const kept = memoryOf(shown, first, NOTHING_SENT);
    const again = packDesign(preview, sent);
    expect(again.zones).toEqual([{ kind: 'same', id: preview.supply.zones[0]?.id }]);

    // The very zone of the preview, now part of a finished design: it has not crossed whole yet.
    const last = packDesign({ ...preview, quality: 'finished' }, memoryOf(preview, again, sent));
    const whole = unpackDesign(last, memoryOf(shown, again, kept), plan, typicalCatalog);
    expect(whole.supply.zones[0]?.network.nodes.length).toBe(nodes);
    expect(memoryOf(whole, last, kept).bareZoneIds.size).toBe(0);
  });

  it('a zone that was finished serves a preview that leaves it alone', () => {
    const cache = createDesignCache();
    const finished = designPlan(plan, typicalCatalog, { quality: 'finished', cache });
    const renamed = { ...plan, project: { ...plan.project, title: 'Another title' } };
    const preview = designPlan(renamed, typicalCatalog, { quality: 'preview', cache });
    expect(preview.supply.zones[0]).toBe(finished.supply.zones[0]);
  });
});
