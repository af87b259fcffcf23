import { describe, expect, test } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { edgesAlong, layoutInputFor } from '../../../src/core/layout';
import { type Bed, emptyPlan, type Plan, plainBed, type Structure } from '../../../src/core/plan';
import { type BedChoice, chooseForBed } from '../../../src/core/soilwater';

const INCH_M = 0.0254;
const corners: readonly (readonly [number, number])[] = [
  [0, 0],
  [6, 0],
  [6, 3],
  [0, 3],
];
const edge = (more: object = {}) => ({ class: null, offsetM: null, sagittaM: 0, ...more });

function bedOf(
  edges: Bed['rings'][number]['edges'] = corners.map(() => edge()),
  more: Partial<Bed> = {},
): Bed {
  return { ...plainBed('bed', [{ points: corners.map(([x, y]) => ({ x, y })), edges }]), ...more };
}
function planWith(bed: Bed, more: Partial<Plan> = {}): Plan {
  return { ...emptyPlan('plan'), beds: { bed }, ...more };
}
const areaStructure = (
  id: string,
  kind: Structure['kind'],
  box: readonly [number, number, number, number],
): Structure => ({
  id,
  name: id,
  kind,
  clearanceM: null,
  shape: {
    kind: 'area',
    rings: [
      [
        { x: box[0], y: box[1] },
        { x: box[2], y: box[1] },
        { x: box[2], y: box[3] },
        { x: box[0], y: box[3] },
      ],
    ],
  },
});
const choiceFor = (plan: Plan, bed: Bed): BedChoice => chooseForBed({ bed, plan, catalog: typicalCatalog });
const inputOf = (plan: Plan, bed: Bed, runLimitM: number | null = null) =>
  layoutInputFor({
    plan,
    bed,
    choice: choiceFor(plan, bed),
    catalog: typicalCatalog,
    runLimitM,
    quality: 'finished',
    previous: null,
  });

describe('what the router is told of a bed', () => {
  test('an edge along a building is a foundation, 12 in off on loam', () => {
    const bed = bedOf();
    const plan = planWith(bed, { structures: { house: areaStructure('house', 'building', [-1, 3, 7, 6]) } });
    const edges = inputOf(plan, bed).rings[0]!.edges;
    expect(edges.map((e) => e.class)).toEqual(['open', 'open', 'foundation', 'open']);
    expect(edges[2]!.offsetM).toBeCloseTo(12 * INCH_M, 9);
    expect(edges[0]!.offsetM).toBeCloseTo(3 * INCH_M, 9);
  });

  test('on clay a foundation is kept 24 in off', () => {
    const bed = bedOf(undefined, { soil: 'clay' });
    const plan = planWith(bed, { structures: { house: areaStructure('house', 'building', [-1, 3, 7, 6]) } });
    expect(inputOf(plan, bed).rings[0]!.edges[2]!.offsetM).toBeCloseTo(24 * INCH_M, 9);
  });

  test('a wall along half an edge cuts the edge where the wall ends', () => {
    const bed = bedOf();
    const plan = planWith(bed, { structures: { house: areaStructure('house', 'building', [3, 3, 7, 6]) } });
    const ring = inputOf(plan, bed).rings[0]!;
    expect(ring.edges.map((e) => e.class)).toEqual(['open', 'open', 'foundation', 'open', 'open']);
    // The wall is met a hand (0.1 m) before its corner at x = 3.
    expect(ring.points[3]).toEqual({ x: expect.closeTo(2.9, 6), y: expect.closeTo(3, 6) });
  });

  test('a fence that meets an edge at right angles does not name it', () => {
    const bed = bedOf();
    const fence: Structure = {
      id: 'fence',
      name: '',
      kind: 'fence',
      clearanceM: null,
      shape: {
        kind: 'line',
        path: [
          { x: 3, y: 3 },
          { x: 3, y: 8 },
        ],
        widthM: 0.05,
      },
    };
    const edges = inputOf(planWith(bed, { structures: { fence } }), bed).rings[0]!.edges;
    expect(edges.every((e) => e.class === 'open')).toBe(true);
  });

  test('a class and an offset the designer gave are kept beside a neighbour', () => {
    const bed = bedOf(corners.map((_, i) => edge(i === 2 ? { class: 'lawn', offsetM: 0.2 } : {})));
    const plan = planWith(bed, { structures: { house: areaStructure('house', 'building', [-1, 3, 7, 6]) } });
    expect(inputOf(plan, bed).rings[0]!.edges[2]).toEqual({ class: 'lawn', offsetM: 0.2 });
  });

  test('offsets go by edge, then class of the bed, then one number for the bed, then the default', () => {
    const edges = corners.map((_, i) =>
      edge(i === 0 ? { class: 'paving', offsetM: 0.11 } : { class: i === 1 ? 'paving' : 'boundary' }),
    );
    const bed = bedOf(edges, { offsetsM: { paving: 0.22 }, edgeOffsetM: 0.33 });
    const offsets = inputOf(planWith(bed), bed).rings[0]!.edges.map((e) => e.offsetM);
    expect(offsets).toEqual([0.11, 0.22, 0.33, 0.33]);
  });

  test('an arc becomes chords of its own class', () => {
    const bed = bedOf(corners.map((_, i) => edge(i === 0 ? { sagittaM: 1, class: 'lawn' } : {})));
    const ring = inputOf(planWith(bed), bed).rings[0]!;
    const lawn = ring.edges.filter((e) => e.class === 'lawn').length;
    expect(lawn).toBeGreaterThan(8);
    // The arc bulges to the right of its direction: south of an edge that runs east.
    expect(Math.min(...ring.points.map((p) => p.y))).toBeCloseTo(-1, 2);
  });

  test('a boulder and a trunk in the bed are obstacles, a plant and a far boulder are not', () => {
    const bed = bedOf();
    const boulder = (id: string, x: number): Structure => ({
      id,
      name: '',
      kind: 'obstacle',
      clearanceM: null,
      shape: { kind: 'disc', at: { x, y: 1.5 }, radiusM: 0.3 },
    });
    const plan = planWith(bed, {
      structures: { near: boulder('near', 2), far: boulder('far', 20) },
      trees: { oak: { id: 'oak', name: '', at: { x: 4, y: 1.5 }, trunkRadiusM: 0.1, canopyRadiusM: 2 } },
      plants: { rose: { id: 'rose', name: '', at: { x: 3, y: 1 }, rootBallRadiusM: 0.2 } },
    });
    const { obstacles } = inputOf(plan, bed);
    expect(obstacles.map((o) => o.id)).toEqual(['near', 'oak']);
    for (const obstacle of obstacles) expect(obstacle.clearanceM).toBeCloseTo(6 * INCH_M, 9);
  });

  test('without a stub-up the pipe comes up at the edge nearest the valve and may move', () => {
    const bed = bedOf();
    const plan = planWith(bed, {
      valves: {
        v: { id: 'v', name: '', at: { x: 8, y: 1 }, elevationM: null, zoneKey: null, assemblyId: null },
      },
    });
    const input = inputOf(plan, bed);
    expect(input.stubUp).toEqual({ x: 6, y: 1 });
    expect(input.stubUpMovable).toBe(true);
  });

  test("the designer's longest run outranks the hydraulic limit", () => {
    expect(inputOf(planWith(bedOf()), bedOf(), 80).maxRunM).toBe(80);
    const bed = bedOf(undefined, { maxRunM: 40 });
    expect(inputOf(planWith(bed), bed, 80).maxRunM).toBe(40);
  });
});

describe('what an edge is said to run along', () => {
  const house = areaStructure('house', 'building', [-1, 3, 4, 8]);

  test('where a house stands beside part of it, both stretches, with the offsets of their kinds', () => {
    const bed = bedOf();
    const plan = planWith(bed, { structures: { house } });
    // Edge 2 runs west from (6, 3) to (0, 3); within a hand's breadth of the house from 4.1 m on.
    const along = edgesAlong(plan, bed, 'loam')[0]!;
    expect(along.map((stretches) => stretches.map((one) => one.class))).toEqual([
      ['open'],
      ['open'],
      ['open', 'foundation'],
      ['open'],
    ]);
    const [open, foundation] = along[2]!;
    expect(open!.lengthM).toBeCloseTo(1.9, 3);
    expect(foundation!.lengthM).toBeCloseTo(4.1, 3);
    // 12 in off a foundation on loam, as above
    expect(foundation!.offsetM).toBeCloseTo(12 * INCH_M, 9);
    expect(foundation!.offsetM).toBeGreaterThan(open!.offsetM);
  });

  test('the designer’s own class and offset hold over all of it', () => {
    const own = edge({ class: 'lawn', offsetM: 0.2 });
    const bed = bedOf([edge(), edge(), own, edge()]);
    const plan = planWith(bed, { structures: { house } });
    expect(edgesAlong(plan, bed, 'loam')[0]![2]).toEqual([{ class: 'lawn', offsetM: 0.2, lengthM: 6 }]);
  });

  test('its length along an arc is that of the arc', () => {
    const bed = bedOf([edge({ sagittaM: 3 }), edge(), edge(), edge()]);
    const [arc] = edgesAlong(planWith(bed), bed, 'loam')[0]![0]!;
    // a half circle of radius 3 m; its chords lie a little inside
    expect(arc!.lengthM / (3 * Math.PI)).toBeCloseTo(1, 2);
  });
});
