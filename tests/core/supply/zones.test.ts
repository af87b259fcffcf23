import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { chooseAssembly, groupZones, mixesHighAndLow, nominalFlowM3s } from '../../../src/core/supply';
import { GPM, planWithSource, servedBed, smallBed, withBed } from './made';

const plan = withBed(planWithSource({ x: -3, y: -2 }), smallBed);
const one = servedBed(plan, smallBed);
const bedAt = (id: string, x: number, changes: Partial<typeof one> = {}) => ({
  ...servedBed(plan, { ...smallBed, id, x }),
  ...changes,
});
const group = (beds: readonly (typeof one)[], usableFlowM3s: number | null = null) =>
  groupZones({ plan, catalog: typicalCatalog, beds, usableFlowM3s });

describe('grouping beds into zones', () => {
  it('puts beds of one kind on one valve, and parts them by need, sun and soil', () => {
    expect(group([bedAt('a', 0), bedAt('b', 10)])).toHaveLength(1);
    expect(group([bedAt('a', 0), bedAt('b', 10, { plants: 'low' })])).toHaveLength(2);
    expect(group([bedAt('a', 0), bedAt('b', 10, { sun: 'shade' })])).toHaveLength(2);
    expect(group([bedAt('a', 0), bedAt('b', 10, { soil: 'clay' })])).toHaveLength(2);
    expect(group([bedAt('a', 0), bedAt('b', 10, { slopeRatio: 0.2 })])).toHaveLength(2);
    // Planted half as dense a bed drinks half: on one valve with the other it would get twice what it needs.
    expect(group([bedAt('a', 0), bedAt('b', 10, { waterFactor: 0.5 })])).toHaveLength(2);
    expect(group([bedAt('a', 0), bedAt('b', 10, { waterFactor: 1.1 })])).toHaveLength(1);
  });

  it('says why each bed is where it is', () => {
    const [zone] = group([bedAt('a', 0), bedAt('b', 10)]);
    expect(zone!.why.map(({ code }) => code)).toEqual(['supply.zone-alike', 'supply.zone-room']);
  });

  it('fills a valve up to the usable flow: seven beds of which two fit need four valves', () => {
    const flow = nominalFlowM3s(one);
    const beds = [0, 1, 2, 3, 4, 5, 6].map((n) => bedAt(`b${n}`, n * 8));
    expect(group(beds, flow * 2.5)).toHaveLength(4);
  });

  it('gives neighbours one valve where alike beds need several: eight in two rows far apart, four to a valve', () => {
    const flow = nominalFlowM3s(one);
    // Given alternately from both rows, so that taking them as they come would mix the rows.
    const beds = [0, 1, 2, 3].flatMap((n) => [
      { ...servedBed(plan, { ...smallBed, id: `near${n}`, x: n * 6, y: 0 }) },
      { ...servedBed(plan, { ...smallBed, id: `far${n}`, x: n * 6, y: 60 }) },
    ]);
    const zones = group(beds, flow * 4.5);
    expect(zones).toHaveLength(2);
    for (const { beds: own } of zones)
      expect(new Set(own.map(({ bedId }) => bedId.slice(0, 3))).size).toBe(1);
  });

  it('takes no more valves than packing by flow does, whatever the beds and where they lie', () => {
    const sizes = fc.array(
      fc.record({
        x: fc.integer({ min: 0, max: 90 }),
        y: fc.integer({ min: 0, max: 90 }),
        rows: fc.integer({ min: 1, max: 4 }),
      }),
      { minLength: 1, maxLength: 14 },
    );
    fc.assert(
      fc.property(sizes, fc.integer({ min: 4, max: 9 }), (made, fit) => {
        const beds = made.map(({ x, y, rows }, index) => {
          const at = { ...smallBed, id: `b${String(index).padStart(2, '0')}`, x, y, heightM: rows };
          return servedBed(plan, at);
        });
        const limit = (nominalFlowM3s(one) * fit) / 3;
        const flows = beds.map(nominalFlowM3s).sort((a, b) => b - a);
        // First fit by falling size, written out here: what any cleverer packing must not exceed.
        const open: number[] = [];
        for (const flow of flows) {
          const at = open.findIndex((sum) => sum + flow <= limit * (1 + 1e-9));
          if (at < 0) open.push(flow);
          else open[at]! += flow;
        }
        const zones = group(beds, limit);
        expect(zones.length).toBeLessThanOrEqual(open.length);
        expect(zones.flatMap(({ beds: own }) => own)).toHaveLength(beds.length);
      }),
      { seed: 4, numRuns: 60 },
    );
  });

  it('keeps beds together that the designer keyed together, whatever their kind', () => {
    const zones = group([
      bedAt('a', 0, { zoneKey: 'x', plants: 'high' }),
      bedAt('b', 9, { zoneKey: 'x', plants: 'low' }),
    ]);
    expect(zones).toHaveLength(1);
    expect(zones[0]!.zoneKey).toBe('x');
  });

  it('says so where one bed alone asks more than the source may be counted on for', () => {
    const [zone] = group([one], nominalFlowM3s(one) / 2);
    expect(zone!.problems.map(({ code }) => code)).toEqual(['supply.zone-over-supply']);
  });

  it('never mixes high and low by itself, and never passes the flow limit, whatever the beds', () => {
    const kinds = fc.record({
      plants: fc.constantFrom('very-low', 'low', 'moderate', 'high'),
      sun: fc.constantFrom('full-sun', 'shade'),
      x: fc.integer({ min: 0, max: 200 }),
    });
    fc.assert(
      fc.property(fc.array(kinds, { maxLength: 12 }), fc.integer({ min: 1, max: 6 }), (made, fit) => {
        const limit = nominalFlowM3s(one) * (fit + 0.5);
        const beds = made.map(({ x, ...kind }, index) => ({ ...one, ...kind, bedId: `b${index}`, x }));
        const zones = group(beds, limit);
        expect(zones.flatMap((zone) => zone.beds.map(({ bedId }) => bedId)).sort()).toEqual(
          beds.map(({ bedId }) => bedId).sort(),
        );
        for (const zone of zones) {
          expect(mixesHighAndLow(zone.beds.map(({ plants }) => plants))).toBe(false);
          expect(zone.nominalFlowM3s).toBeLessThanOrEqual(limit * 1.0001);
        }
      }),
      { numRuns: 60, seed: 7 },
    );
  });
});

describe('the assembly for a flow', () => {
  // Drip zones up to about 4.4 gpm take a low-flow assembly, above that a high-flow one: common practice, no source.
  it.each([
    [0.8, 'low-flow'],
    [4.3, 'low-flow'],
    [4.6, 'high-flow'],
    [18, 'high-flow'],
  ])('%s gpm takes a %s one at 25 psi', (gpm, kind) => {
    const assembly = chooseAssembly(typicalCatalog, gpm * GPM, true, null);
    expect(assembly?.class).toBe(kind);
    expect(assembly?.id).toMatch(/25psi$/);
  });

  it('is the one the designer locked, where it is in the catalogue', () => {
    expect(chooseAssembly(typicalCatalog, GPM, true, 'assembly-high-flow-40psi')?.id).toBe(
      'assembly-high-flow-40psi',
    );
    expect(chooseAssembly(typicalCatalog, GPM, true, 'gone')?.class).toBe('low-flow');
  });
});
