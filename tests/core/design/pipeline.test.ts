import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { createDesignCache, type Design, designPlan } from '../../../src/core/design';
import { applyCommand, type Command, type Plan, readPlan } from '../../../src/core/plan';

const path = fileURLToPath(new URL('../../../assets/demonstration.rillsheet.json', import.meta.url));

function demonstration(): Plan {
  const read = readPlan(readFileSync(path, 'utf8'), 'demonstration');
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}
const change = (plan: Plan, command: Command): Plan => {
  const applied = applyCommand(plan, command);
  if (!applied.ok) throw new Error(JSON.stringify(applied.problems));
  return applied.value.plan;
};

describe('the pipeline on the demonstration plan', () => {
  const plan = demonstration();
  const cache = createDesignCache();
  let design: Design;
  beforeAll(() => {
    design = designPlan(plan, typicalCatalog, { quality: 'finished', cache });
  });

  it('every bed is served by one zone, and every zone settles with its water balanced', () => {
    expect(design.beds.map((bed) => bed.mark)).toEqual(['A', 'B', 'C']);
    for (const bed of design.beds) {
      expect(bed.layout.status, bed.name).toBe('routed');
      expect(bed.layout.verified.passed, bed.name).toBe(true);
      expect(design.supply.zones.filter((zone) => zone.bedIds.includes(bed.id)).length, bed.name).toBe(1);
    }
    for (const zone of design.supply.zones) {
      expect(zone.solution.status).toBe('settled');
      // 1e-9 m3/s is a drop a minute: the balance the solver promises.
      expect(zone.solution.worstResidualM3s).toBeLessThan(1e-9);
    }
  });

  it('the one header under the walk gets one sleeve, and the one trench over the gas line is named', () => {
    // Counted by hand on the plan: only the house strip lies beyond the paving, the walk and its apron touch and are
    // crossed together; only the rose border lies east of the gas line.
    const sleeves = [...design.supply.sleeves, ...design.supply.zones.flatMap((zone) => zone.sleeves)];
    expect(sleeves.filter(({ carries }) => carries === 'pipe').length).toBe(1);
    // Counted by hand: three wires leave the controller across the walk side by side, 2 m from that header.
    expect(sleeves.filter(({ carries }) => carries === 'wire').length).toBe(1);
    expect(design.supply.zones.find((zone) => zone.sleeves.length > 0)?.bedIds).toEqual(['bed-c']);
    expect(design.supply.crossings.map((crossing) => crossing.utilityId)).toEqual(['gas']);
  });

  it('the water of all beds is the water of all zones', () => {
    const ofBeds = design.beds.reduce(
      (sum, bed) => sum + (bed.applicationRateMs ?? 0) * bed.layout.usableAreaM2,
      0,
    );
    const ofZones = design.supply.zones.reduce((sum, zone) => sum + zone.flowM3s, 0);
    expect(Math.abs(ofBeds - ofZones) / ofZones).toBeLessThan(1e-6);
  });

  it('the same plan designed afresh gives the same design', () => {
    const again = designPlan(demonstration(), typicalCatalog, { quality: 'finished' });
    expect(JSON.stringify(again.beds)).toBe(JSON.stringify(design.beds));
    expect(JSON.stringify(again.findings)).toBe(JSON.stringify(design.findings));
  });

  it('an edit of one bed routes that bed alone, and solves no zone it has no part in', () => {
    const before = { ...cache.counts };
    const edited = change(plan, { name: 'set-bed', params: { id: 'bed-c', changes: { rowSpacingM: 0.4 } } });
    const next = designPlan(edited, typicalCatalog, { quality: 'finished', cache });
    expect((cache.counts.route ?? 0) - (before.route ?? 0)).toBe(1);
    expect(next.beds[0]?.layout).toBe(design.beds[0]?.layout);
    expect((cache.counts.zone ?? 0) - (before.zone ?? 0)).toBeLessThan(design.supply.zones.length);
  });

  it('a new title computes nothing again', () => {
    const first = designPlan(plan, typicalCatalog, { quality: 'finished', cache });
    const before = { ...cache.counts };
    const renamed = change(plan, { name: 'set-project', params: { changes: { title: 'Another name' } } });
    const next = designPlan(renamed, typicalCatalog, { quality: 'finished', cache });
    expect(cache.counts).toEqual(before);
    expect(next.supply.zones.every((zone, i) => zone === first.supply.zones[i])).toBe(true);
  });
});
