import { describe, expect, it } from 'vitest';
import { withRoutes } from '../../../src/app/state/routes';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan, routedBeds } from '../../../src/core/design';
import { emptyPlan, type Plan, plainBed } from '../../../src/core/plan';

const bed = (id: string, x: number, wideM: number) => {
  const points = [
    { x, y: 0 },
    { x: x + wideM, y: 0 },
    { x: x + wideM, y: 3 },
    { x, y: 3 },
  ];
  return plainBed(id, [{ points, edges: points.map(() => ({ class: null, offsetM: null, sagittaM: 0 })) }]);
};
const planOf = (...beds: ReturnType<typeof bed>[]): Plan => ({
  ...emptyPlan('garden', 'metric'),
  beds: Object.fromEntries(beds.map((one) => [one.id, one])),
});
const quality = 'preview' as const;

describe('tubing that comes ahead of its design', () => {
  const design = designPlan(planOf(bed('a', 0, 4), bed('b', 10, 4)), typicalCatalog, { quality });
  const after = planOf(bed('a', 0, 4), bed('b', 10, 6));
  const anew = routedBeds(after, typicalCatalog, { quality }).filter((one) => one.id === 'b');

  it('takes the place of the old tubing of its bed and leaves every other bed alone', () => {
    const shown = withRoutes(design, anew, after);
    expect(shown.beds.map((one) => one.id)).toEqual(['a', 'b']);
    expect(shown.beds[0]).toBe(design.beds[0]);
    // 6 x 3 m, by hand
    expect(shown.beds[1]?.layout.areaM2).toBeCloseTo(18, 6);
    expect(shown.beds[1]?.zoneId).toBe(design.beds[1]?.zoneId);
    expect(shown.beds[1]?.applicationRateMs).toBeNull();
  });

  it('takes the tubing of beds away that the plan no longer has', () => {
    const shown = withRoutes(design, anew, planOf(bed('b', 10, 6)));
    expect(shown.beds.map((one) => one.id)).toEqual(['b']);
  });
});
