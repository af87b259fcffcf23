import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readGeoJson } from '../../../src/core/exchange';
import { planSchema } from '../../../src/core/plan';
import { printer } from '../../../src/core/units';
import { exchangeSentences } from '../../../src/core/words/exchange';

const bedsFolder = new URL('../../reference/beds/', import.meta.url);
const square = [
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 3],
  [0, 0],
];

function feature(
  kind: string | undefined,
  type: string,
  coordinates: unknown,
  properties = {},
  id?: unknown,
) {
  return {
    type: 'Feature',
    ...(id === undefined ? {} : { id }),
    properties: { ...(kind === undefined ? {} : { kind }), ...properties },
    geometry: { type, coordinates },
  };
}
const bed = (properties = {}, id: unknown = 'a') => feature('bed', 'Polygon', [square], properties, id);

function read(features: readonly unknown[], top: object = { rillsheet: { frame: 'local-metres' } }) {
  const text = JSON.stringify({ type: 'FeatureCollection', ...top, features });
  return readGeoJson(text, { fileName: 'site.geojson' });
}
function planOf(features: readonly unknown[], top?: object) {
  const outcome = read(features, top);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}
const codes = (outcome: ReturnType<typeof read>) => outcome.problems.map((p) => p.code);

describe('reading the published beds', () => {
  it.each(readdirSync(bedsFolder).filter((name) => name.endsWith('.geojson')))(
    '%s becomes a plan that keeps its id and its corners',
    (name) => {
      const text = readFileSync(new URL(name, bedsFolder), 'utf8');
      const outcome = readGeoJson(text, { fileName: name });
      expect(outcome.problems.filter((p) => p.severity === 'stop')).toEqual([]);
      const raw = JSON.parse(text).features[0];
      const plan = outcome.ok ? outcome.value : null;
      const drawn = plan?.beds[raw.id];
      expect(drawn?.rings.map((ring) => ring.points.length)).toEqual(
        raw.geometry.coordinates.map((ring: unknown[]) => ring.length - 1),
      );
      expect(drawn?.rings[0]?.edges[0]?.class).toBe(raw.properties.edges[0][0]);
      expect(drawn?.rowSpacingM).toBe(raw.properties.rowSpacingM);
      expect(planSchema.safeParse(plan).success).toBe(true);
    },
  );
});

describe('a bed feature', () => {
  it('carries every property of the contract into the plan in SI', () => {
    const plan = planOf([
      bed({
        name: 'North bed',
        soil: 'Sandy loam',
        plants: 'low',
        sun: 'part-shade',
        slopePercent: 12,
        slopeTowardDeg: 90,
        edges: [['open', 'paving', 'foundation', 'lawn']],
        offsetsM: { paving: 0.1 },
        edgeOffsetM: 0.2,
        rowSpacingM: 0.4572,
        rowStretchRatio: 0.15,
        rowDirectionDeg: 30,
        layout: 'loop',
        maxRunM: 90,
        bendRadiusM: 0.127,
        stubUp: [1, 0],
        dripline: 'some-dripline',
        elevationM: 2,
      }),
    ]);
    expect(plan.beds.a).toMatchObject({
      name: 'North bed',
      soil: 'sandy-loam',
      plants: 'low',
      sun: 'part-shade',
      slopeRatio: 0.12,
      offsetsM: { paving: 0.1 },
      edgeOffsetM: 0.2,
      layout: 'loop',
      maxRunM: 90,
      stubUp: { x: 1, y: 0 },
      driplineId: 'some-dripline',
      elevationM: 2,
    });
    expect(plan.beds.a?.slopeTowardRad).toBeCloseTo(Math.PI / 2, 12);
    expect(plan.beds.a?.rowDirectionRad).toBeCloseTo(Math.PI / 6, 12);
    expect(plan.beds.a?.rings[0]?.edges.map((e) => e.class)).toEqual([
      'open',
      'paving',
      'foundation',
      'lawn',
    ]);
  });

  it('of several parts becomes one bed a part', () => {
    const far = square.map(([x, y]) => [x! + 10, y]);
    const plan = planOf([
      feature(
        'bed',
        'MultiPolygon',
        [[square], [far]],
        {
          edges: [
            ['lawn', 'lawn', 'lawn', 'lawn'],
            ['paving', 'paving', 'paving', 'paving'],
          ],
        },
        'm',
      ),
    ]);
    expect(Object.keys(plan.beds)).toEqual(['m/1', 'm/2']);
    expect(plan.beds['m/2']?.rings[0]?.edges[0]?.class).toBe('paving');
  });

  it('keeps a value that is wrong out of the plan and names it, with the rest going on', () => {
    const outcome = read([
      bed({ rowSpacingM: '18', soil: 'mud', slopePercent: -4, edges: [['hedge', null, null, null]] }),
    ]);
    expect(outcome.ok).toBe(true);
    expect(codes(outcome).sort()).toEqual(
      ['exchange.bad-choice', 'exchange.bad-edge-class', 'exchange.bad-number', 'exchange.bad-number'].sort(),
    );
    expect(outcome.problems.every((p) => p.severity === 'stop' && p.where.id === 'a')).toBe(true);
    expect(outcome.problems.map((p) => p.where.path)).toContain('features[0].properties.rowSpacingM');
  });

  it('takes edges without a class from what they run along, so leaves them unsaid', () => {
    const plan = planOf([bed({ edges: [[null, 'paving']] })]);
    expect(plan.beds.a?.rings[0]?.edges.map((e) => e.class)).toEqual([null, 'paving', null, null]);
  });
});

describe('the other kinds', () => {
  it('all find their place in the plan', () => {
    const plan = planOf([
      bed(),
      feature('building', 'Polygon', [square], {}, 'house'),
      feature(
        'fence',
        'LineString',
        [
          [0, 0],
          [9, 0],
        ],
        {},
        'fence',
      ),
      feature('obstacle', 'Point', [1, 1], { radiusM: 0.4 }, 'boulder'),
      feature('tree', 'Point', [2, 2], { trunkRadiusM: 0.2, canopyRadiusM: 2 }, 'oak'),
      feature('plant', 'Point', [2, 1], { rootBallRadiusM: 0.2 }, 'sage'),
      feature(
        'utility',
        'LineString',
        [
          [0, 5],
          [9, 5],
        ],
        {},
        'gas',
      ),
      feature(
        'source',
        'Point',
        [-2, 0],
        {
          staticPressureKPa: 400,
          flowTestLps: 0.5,
          flowTestPressureKPa: 300,
          meterMm: 20,
          water: 'well',
          pumpCurve: [
            [0, 400],
            [1, 200],
          ],
        },
        'tap',
      ),
      feature('valve', 'Point', [-1, 0], { elevationM: 1 }, 'v1'),
      feature('controller', 'Point', [-1, 1], {}, 'c1'),
      feature('spot', 'Point', [0, 0], { elevationM: 1.5 }, 's1'),
      feature('stub-up', 'Point', [0, 1.5], {}, 'su'),
    ]);
    expect(Object.keys(plan.structures)).toEqual(['house', 'fence', 'boulder']);
    expect(plan.structures.boulder?.shape).toEqual({ kind: 'disc', at: { x: 1, y: 1 }, radiusM: 0.4 });
    expect(Object.keys({ ...plan.trees, ...plan.plants, ...plan.utilities, ...plan.valves })).toEqual([
      'oak',
      'sage',
      'gas',
      'v1',
    ]);
    expect(Object.keys({ ...plan.controllers, ...plan.spots })).toEqual(['c1', 's1']);
    // 400 kPa / (1000 kg/m3 x 9.80665 m/s2) = 40.7887 m, by hand.
    expect(plan.sources.tap?.staticHeadM).toBeCloseTo(40.7887, 3);
    expect(plan.sources.tap).toMatchObject({ flowTestM3s: 0.0005, meterSizeM: 0.02, water: 'well' });
    expect(plan.beds.a?.stubUp).toEqual({ x: 0, y: 1.5 });
  });

  it('that nobody knows are kept whole and reported', () => {
    const outcome = read([
      bed(),
      feature(
        'pergola',
        'LineString',
        [
          [0, 0],
          [1, 1],
        ],
        { height: 3 },
        'p',
      ),
    ]);
    expect(codes(outcome)).toEqual(['exchange.unknown-kind']);
    const kept = outcome.ok ? outcome.value.foreign.p : undefined;
    expect(kept?.lines).toEqual([
      [
        { x: 0, y: 0 },
        { x: 1, y: 1 },
      ],
    ]);
    expect(JSON.parse(kept!.json).properties.height).toBe(3);
  });

  it('an outline with no kind is taken as a bed, and that is said', () => {
    const outcome = read([feature(undefined, 'Polygon', [square])]);
    expect(outcome.ok && Object.keys(outcome.value.beds)).toEqual(['bed-1']);
    expect(codes(outcome)).toEqual(['exchange.kind-assumed']);
  });
});

describe('ids', () => {
  it('numbers, doubles and names of the language itself all end as ids of their own', () => {
    const outcome = read([bed({}, 7), bed({}, 'a'), bed({}, 'a'), bed({}, 'constructor'), bed({}, '')]);
    expect(outcome.ok && Object.keys(outcome.value.beds).sort()).toEqual(['7', 'a', 'a-2', 'bed-1', 'bed-2']);
    expect(codes(outcome)).toEqual(['exchange.id-changed', 'exchange.id-changed']);
  });
});

describe('WGS84', () => {
  // A degree of latitude at 45 degrees north is 111 131.8 m on WGS84, of longitude 78 846.8 m (Snyder 1987, p. 24-25 formulas, from memory).
  const at = (lon: number, lat: number) => [
    [lon, lat],
    [lon + 0.0001, lat],
    [lon + 0.0001, lat + 0.0001],
    [lon, lat + 0.0001],
    [lon, lat],
  ];

  it('is laid flat in metres about the middle of the site, north up', () => {
    const plan = planOf([feature('bed', 'Polygon', [at(-93, 45)], { slopeTowardDeg: 90 }, 'a')], {});
    expect(plan.georeference).toMatchObject({
      longitudeDeg: -92.99995,
      latitudeDeg: 45.00005,
      bearingRad: 0,
    });
    const [southWest, southEast, northEast] = plan.beds.a!.rings[0]!.points;
    expect(southEast!.x - southWest!.x).toBeCloseTo(7.8847, 3);
    expect(northEast!.y - southEast!.y).toBeCloseTo(11.1132, 3);
  });

  it('turned by a stated bearing keeps distances and turns compass bearings with it', () => {
    const georeference = { longitudeDeg: -93, latitudeDeg: 45, bearingDeg: 90 };
    const plan = planOf([feature('bed', 'Polygon', [at(-93, 45)], { slopeTowardDeg: 90 }, 'a')], {
      rillsheet: { frame: 'wgs84', georeference },
    });
    const [southWest, southEast] = plan.beds.a!.rings[0]!.points;
    expect(southEast!.y - southWest!.y).toBeCloseTo(7.8847, 3);
    expect(Math.abs(southEast!.x - southWest!.x)).toBeLessThan(0.001);
    // Downhill due east is along +y of a plan whose +y points east.
    expect(plan.beds.a!.slopeTowardRad).toBeCloseTo(0, 12);
  });

  it.each([
    [
      { crs: { type: 'name', properties: { name: 'urn:ogc:def:crs:EPSG::32615' } } },
      'exchange.other-reference-system',
    ],
    [{ rillsheet: { frame: 'feet' } }, 'exchange.unknown-frame'],
    [{ rillsheet: { frame: 'wgs84', georeference: { longitudeDeg: 'x' } } }, 'exchange.bad-georeference'],
  ])('refuses a frame it cannot trust %#', (top, code) => {
    const outcome = read([bed()], top);
    expect(outcome.ok).toBe(false);
    expect(codes(outcome)).toContain(code);
  });

  it('refuses coordinates off the earth, with their place', () => {
    const outcome = read([feature('bed', 'Polygon', [at(500, 95)], {}, 'a')], {});
    expect(outcome.ok).toBe(false);
    expect(outcome.problems[0]).toMatchObject({
      code: 'exchange.off-the-earth',
      where: { id: 'a', path: 'features[0].geometry.coordinates[0][0]' },
    });
  });

  it('refuses features on two continents as one site', () => {
    const outcome = read(
      [feature('bed', 'Polygon', [at(-93, 45)]), feature('bed', 'Polygon', [at(10, 50)])],
      {},
    );
    expect(codes(outcome)).toEqual(['exchange.spread-too-wide']);
  });
});

describe('what is not a plan', () => {
  it.each([
    ['[]', 'exchange.not-a-feature-collection'],
    ['{"type":"Polygon"}', 'exchange.not-a-feature-collection'],
    ['{"type":{"features":[]},"features":[]}', 'exchange.not-a-feature-collection'],
    ['{"type":"FeatureCollection","features":[]}', 'exchange.no-bed'],
    ['{"type":"FeatureCollection","features":[1, null]}', 'exchange.not-a-feature'],
  ])('%s is refused', (text, code) => {
    const outcome = readGeoJson(text, { fileName: 'x.geojson' });
    expect(outcome.ok).toBe(false);
    expect(codes(outcome)).toContain(code);
    expect(JSON.stringify(outcome.problems)).not.toContain('[object');
  });

  it('a bed that cannot stand is left out and the others go on', () => {
    const outcome = read([
      bed({}, 'good'),
      feature(
        'bed',
        'Polygon',
        [
          [
            [0, 0],
            ['x', 1],
          ],
        ],
        {},
        'bad',
      ),
    ]);
    expect(outcome.ok && Object.keys(outcome.value.beds)).toEqual(['good']);
    expect(outcome.problems[0]).toMatchObject({
      code: 'exchange.bad-position',
      severity: 'stop',
      where: { id: 'bad' },
    });
  });
});

it('every sentence of the room says what, why and what to do next', () => {
  for (const [code, sentence] of Object.entries(exchangeSentences)) {
    const said = sentence({}, printer('us'));
    for (const part of [said.what, said.why, said.next]) expect(part.length, code).toBeGreaterThan(3);
  }
});
