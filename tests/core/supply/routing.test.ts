import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import {
  inflatePath,
  inset,
  intersect,
  multiPolygonAreaM2,
  nestRings,
  type PlanPoint,
  polylineLengthM,
} from '../../../src/core/geometry';
import { type Plan, plainBed, type Structure } from '../../../src/core/plan';
import { designSupply, type SupplyDesign } from '../../../src/core/supply';
import { siteOf } from '../../../src/core/supply/site';
import { TrenchGraph } from '../../../src/core/supply/trenchGraph';
import { allSteps } from '../../../src/core/units';
import { FOOT, planWithSource, servedBed, smallBed, withBed } from './made';

const box = (x: number, y: number, widthM: number, heightM: number): PlanPoint[] => [
  { x, y },
  { x: x + widthM, y },
  { x: x + widthM, y: y + heightM },
  { x, y: y + heightM },
];
const area = (id: string, kind: Structure['kind'], ring: PlanPoint[]): Structure => ({
  id,
  name: id,
  kind,
  shape: { kind: 'area', rings: [ring] },
  clearanceM: null,
});
const withStructures = (plan: Plan, ...structures: Structure[]): Plan => ({
  ...plan,
  structures: Object.fromEntries(structures.map((structure) => [structure.id, structure])),
});
const pathsOf = (design: SupplyDesign): readonly (readonly PlanPoint[])[] => [
  ...design.main.map(({ path }) => path),
  ...design.zones.flatMap(({ pipes }) => pipes.map(({ path }) => path)),
];
const design = (plan: Plan, rectangles: readonly (typeof smallBed)[]) =>
  designSupply({
    plan,
    catalog: typicalCatalog,
    beds: rectangles.map((at) => servedBed(plan, at)),
    quality: 'preview',
  });

/** Ground of buildings and obstacles, 5 mm smaller, that a hair-thin trench runs through, m2; measured with the clipper alone. */
function crossedM2(result: SupplyDesign, structures: readonly Structure[]): number {
  const stood = structures
    .filter(({ kind }) => kind === 'building' || kind === 'obstacle')
    .flatMap(({ shape }) => (shape.kind === 'area' ? nestRings(shape.rings) : []));
  const solid = inset(stood, 0.005);
  return pathsOf(result).reduce(
    (sum, path) => sum + multiPolygonAreaM2(intersect(nestRings(inflatePath(path, 0.001)), solid)),
    0,
  );
}

const bed = { ...smallBed, x: 20, y: 0 };
const basePlan = withBed(planWithSource({ x: 0, y: 0 }), bed);

describe('headers and mains', () => {
  it('go round a house that stands between source and bed', () => {
    const house = area('house', 'building', box(8, -6, 5, 14));
    const plan = withStructures(basePlan, house);
    const result = design(plan, [bed]);
    expect(result.zones[0]!.pipes.length).toBeGreaterThan(0);
    expect(crossedM2(result, [house])).toBe(0);
    // Straight from x = 0 to the stub-up at about x = 20; round the house's end at y = -6 or 8 it must be longer.
    const lengthM = [...result.main, ...result.zones[0]!.pipes].reduce((sum, pipe) => sum + pipe.lengthM, 0);
    expect(lengthM).toBeGreaterThan(21.5);
    expect(lengthM).toBeLessThan(27);
  });

  it('pass under a 5 ft walk that cannot be gone round in one sleeve, a foot beyond it on both sides', () => {
    const walk = area('walk', 'paving', box(10, -100, 5 * FOOT, 200));
    const result = design(withStructures(basePlan, walk), [bed]);
    const sleeves = [...result.sleeves, ...result.zones.flatMap((zone) => zone.sleeves)];
    expect(sleeves).toHaveLength(1);
    expect(sleeves[0]!.under).toBe('walk');
    // Square across: 5 ft and twice 1 ft; a slanting trench is a little longer.
    expect(sleeves[0]!.lengthM).toBeGreaterThanOrEqual(7 * FOOT - 0.001);
    expect(sleeves[0]!.lengthM).toBeLessThan(7.6 * FOOT);
    // Common practice: a sleeve of twice the pipe's diameter.
    const pipe = result.zones[0]!.pipes[0]!.pipe;
    expect(sleeves[0]!.pipe.insideDiameterM).toBeGreaterThanOrEqual(2 * pipe.outsideDiameterM);
  });

  it('cross two pieces of paving that touch in one sleeve, and two walks apart in two', () => {
    const first = area('a', 'paving', box(9, -100, 1.5, 200));
    const touching = area('b', 'paving', box(10.5, -100, 1, 200));
    const apart = area('b', 'paving', box(13, -100, 1.5, 200));
    const count = (...structures: Structure[]) => {
      const result = design(withStructures(basePlan, ...structures), [bed]);
      return [...result.sleeves, ...result.zones.flatMap((zone) => zone.sleeves)].length;
    };
    expect(count(first, touching)).toBe(1);
    expect(count(first, apart)).toBe(2);
  });

  it('say so where a bed lies in a closed court, and draw nothing through its walls', () => {
    const walls: Structure = {
      ...area('court', 'building', []),
      shape: { kind: 'area', rings: [box(15, -5, 20, 15), box(16, -4, 18, 13).reverse()] },
    };
    const result = design(withStructures(basePlan, walls), [bed]);
    expect(result.zones[0]!.problems.map(({ code }) => code)).toContain('supply.no-way-to-bed');
    expect(crossedM2(result, [walls])).toBe(0);
    expect(result.zones[0]!.solution.status).toBe('settled');
  });

  it('keep a header drawn by hand and join the beds to it', () => {
    const drawn = [
      { x: 3, y: -4 },
      { x: 18, y: -4 },
    ];
    const plan: Plan = {
      ...basePlan,
      lockedPipes: {
        h: { id: 'h', role: 'header', zoneKey: null, path: drawn, pipeId: 'pvc-class200-1' },
      },
    };
    const { pipes } = design(plan, [bed]).zones[0]!;
    const kept = pipes.filter(({ locked }) => locked);
    expect(kept.map(({ path }) => path)).toEqual([drawn]);
    expect(kept[0]!.pipe.id).toBe('pvc-class200-1');
    expect(kept[0]!.flowM3s).toBeGreaterThan(0);
  });

  it('keep the valve where the designer put it', () => {
    const plan: Plan = {
      ...basePlan,
      valves: {
        v: { id: 'v', name: '', at: { x: 12, y: 5 }, elevationM: null, zoneKey: null, assemblyId: null },
      },
    };
    const zone = design(plan, [bed]).zones[0]!;
    expect(zone.assemblyAt).toEqual({ x: 12, y: 5 });
    expect(zone.devices.find(({ kind }) => kind === 'valve-assembly')?.id).toBe('v');
  });

  it('never cross a building or an obstacle, wherever these stand', () => {
    const block = fc.record({
      x: fc.integer({ min: 2, max: 34 }),
      y: fc.integer({ min: -14, max: 14 }),
      widthM: fc.integer({ min: 1, max: 9 }),
      heightM: fc.integer({ min: 1, max: 9 }),
      kind: fc.constantFrom('building' as const, 'obstacle' as const, 'paving' as const),
    });
    const beds = [
      { ...smallBed, id: 'a', x: 20, y: 0 },
      { ...smallBed, id: 'b', x: 28, y: -10 },
      { ...smallBed, id: 'c', x: 12, y: 10 },
    ];
    let routed = 0;
    fc.assert(
      fc.property(fc.array(block, { minLength: 1, maxLength: 5 }), (blocks) => {
        const structures = blocks
          .map(({ kind, x, y, widthM, heightM }, index) =>
            area(`s${index}`, kind, box(x, y, widthM, heightM)),
          )
          .filter(({ shape }) => shape.kind !== 'area' || !standsOn(shape.rings[0]!, beds));
        const plan = withStructures(
          beds.reduce((so, at) => withBed(so, at), planWithSource({ x: 0, y: 0 })),
          ...structures,
        );
        const result = design(plan, beds);
        routed += pathsOf(result).length;
        expect(crossedM2(result, structures)).toBe(0);
      }),
      { numRuns: 25, seed: 11 },
    );
    expect(routed).toBeGreaterThan(50);
  });
});

/** A block may not stand on a bed or on the source: nothing could then be fed without crossing it. */
function standsOn(ring: readonly PlanPoint[], beds: readonly (typeof smallBed)[]): boolean {
  const grounds = [...beds.map((at) => box(at.x, at.y, at.widthM, at.heightM)), box(-2, -2, 4, 4)];
  return grounds.some((ground) => multiPolygonAreaM2(intersect(nestRings([ring]), nestRings([ground]))) > 0);
}

describe('control wire', () => {
  const walk = area('walk', 'paving', box(10, -100, 5 * FOOT, 200));
  const withController = (plan: Plan, at: PlanPoint): Plan => ({
    ...plan,
    controllers: {
      c: { id: 'c', name: '', at, stations: 6, masterValve: false, flowSensor: false, weatherSensor: true },
    },
  });
  const valveAt = (at: PlanPoint): Plan['valves'] => ({
    v: { id: 'v', name: '', at, elevationM: null, zoneKey: null, assemblyId: null },
  });
  const sleevesOf = (plan: Plan) => {
    const result = design(plan, [bed]);
    const all = [...result.sleeves, ...result.zones.flatMap(({ sleeves }) => sleeves)];
    return {
      pipe: all.filter(({ carries }) => carries === 'pipe'),
      wire: all.filter(({ carries }) => carries === 'wire'),
    };
  };

  it('goes through the sleeve of a pipe that crosses beside it', () => {
    const plan = withController(withStructures(basePlan, walk), { x: 0, y: 0.3 });
    const { pipe, wire } = sleevesOf({ ...plan, valves: valveAt({ x: 17, y: 0 }) });
    expect(pipe).toHaveLength(1);
    expect(wire).toHaveLength(0);
  });

  it('has a sleeve of its own, a foot beyond the paving, where it crosses alone', () => {
    const plan = withController(withStructures(basePlan, walk), { x: 2, y: 40 });
    const { pipe, wire } = sleevesOf({ ...plan, valves: valveAt({ x: 17, y: 20 }) });
    expect(pipe).toHaveLength(1);
    expect(wire).toHaveLength(1);
    expect(wire[0]!.under).toBe('walk');
    // Across 5 ft of walk by a line of 15 m east and 20 m south: 5 ft x 25 / 15, and a foot on both sides.
    expect(wire[0]!.lengthM).toBeCloseTo(5 * FOOT * (25 / 15) + 2 * FOOT, 1);
  });
});

describe('a large bed fed at many places along a wall', () => {
  // A bed round the front of a house, 40 x 20 m with a notch of 10 x 8 m, edged as a foundation there.
  const points = [
    { x: 0, y: 0 },
    { x: 15, y: 0 },
    { x: 15, y: 8 },
    { x: 25, y: 8 },
    { x: 25, y: 0 },
    { x: 40, y: 0 },
    { x: 40, y: 20 },
    { x: 0, y: 20 },
  ];
  const edges = points.map((_, index) => ({
    class: [1, 2, 3].includes(index) ? ('foundation' as const) : ('open' as const),
    offsetM: null,
    sagittaM: 0,
  }));
  const plan: Plan = {
    ...planWithSource({ x: -3, y: 22 }),
    beds: { round: { ...plainBed('round', [{ points, edges }], 'Round the house') } },
  };
  const outline = nestRings([points]);
  const feeds = Array.from({ length: 100 }, (_, index) => ({
    bedId: `round/${index}`,
    name: 'Round the house',
    outline,
  }));

  it('is one bed to a trench, however many feeds it has', () => {
    const [once, often] = [siteOf(plan, feeds.slice(0, 1)), siteOf(plan, feeds)];
    expect(often.corners).toEqual(once.corners);
    expect(often.beds).toHaveLength(1);
  });

  it('has a way for a header to a stub-up on the far side of the notch', () => {
    const graph = new TrenchGraph(siteOf(plan, feeds));
    const [from, stubUp] = [
      { x: 14.9, y: 1 },
      { x: 25, y: 4 },
    ];
    const way = allSteps(graph.findWaySteps([from], stubUp))!;
    expect(way).not.toBeNull();
    // In the open front the house is gone round by its foot, or along the notch: never shorter than straight through.
    const lengthM = polylineLengthM(way.points);
    expect(lengthM).toBeGreaterThan(Math.hypot(10.1, 3));
    const house = inset(nestRings([box(15, 0, 10, 8)]), 0.005);
    expect(multiPolygonAreaM2(intersect(nestRings(inflatePath(way.points, 0.001)), house))).toBe(0);
  });
});
