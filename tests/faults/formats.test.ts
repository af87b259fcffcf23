import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../src/core/catalog';
import { designPlan } from '../../src/core/design';
import {
  readDxf,
  readGeoJson,
  readInp,
  readPointsCsv,
  writeDxf,
  writePlanGeoJson,
} from '../../src/core/exchange';
import { type Plan, planSchema, readPlan, writePlan } from '../../src/core/plan';
import { type Outcome, type Problem, printer } from '../../src/core/units';
import { sayProblem } from '../../src/core/words';
import { mutate, seeded } from './mutate';

const isLong = process.env.RILLSHEET_FAULTS === 'long';
const MUTATIONS = isLong ? 20_000 : 600;

const siteText = readFileSync(new URL('../../assets/schema/examples/site.geojson', import.meta.url), 'utf8');
const site = readGeoJson(siteText, { fileName: 'site.geojson' });
if (!site.ok) throw new Error('the example reads');
const planText = writePlan(site.value);
const drawingText = writeDxf(designPlan(site.value, typicalCatalog, { quality: 'preview' }));
const tableText =
  'Name,Easting,Northing,Elevation,Bed\n1,0,0,1.5,north\n2,4,0,1.6,north\n3,4,3,,north\n4,9,9,2,\n';
const networkText = `[JUNCTIONS]
j1 0 0
[RESERVOIRS]
r 30
[PIPES]
p r j1 100 20 0.0015 0 Open
[EMITTERS]
j1 0.01
[OPTIONS]
Units LPS
Headloss D-W
[END]
`;

/** Every problem has a known code with words, so that a person is told what to do. */
function expectSaid(problems: readonly Problem[]): void {
  for (const problem of problems) {
    const said = sayProblem(problem, printer('us'));
    expect(said.what, problem.code).not.toBe(problem.code);
    expect(said.next.length, problem.code).toBeGreaterThan(3);
  }
}

function expectNamed(outcome: Outcome<unknown>): void {
  if (!outcome.ok) expect(outcome.problems.length).toBeGreaterThan(0);
  expectSaid(outcome.problems.slice(0, 5));
}

/** A plan that is taken holds to the schema, and saving it twice gives the same bytes. */
function expectSavable(plan: Plan): void {
  expect(planSchema.safeParse(plan).success).toBe(true);
  const text = writePlan(plan);
  const again = readPlan(text, 'again.json');
  expect(again.ok && writePlan(again.value)).toBe(text);
}

const FORMATS: readonly (readonly [
  name: string,
  text: string,
  read: (text: string) => Outcome<unknown>,
  plan: (value: never) => Plan | null,
])[] = [
  ['GeoJSON', siteText, (text) => readGeoJson(text, { fileName: 'x.geojson' }), (plan: Plan) => plan],
  ['plan', planText, (text) => readPlan(text, 'x.json'), (plan: Plan) => plan],
  [
    'drawing',
    drawingText,
    (text) => readDxf(text, { fileName: 'x.dxf' }),
    ({ plan }: { plan: Plan }) => plan,
  ],
  ['table of points', tableText, (text) => readPointsCsv(text, { fileName: 'x.csv' }), (plan: Plan) => plan],
  ['network', networkText, (text) => readInp(text, { fileName: 'x.inp' }), () => null],
];

describe('a file cut short', () => {
  it.each([
    ['GeoJSON', siteText.trimEnd(), (text: string) => readGeoJson(text, { fileName: 'x.geojson' })],
    ['plan', planText.trimEnd(), (text: string) => readPlan(text, 'x.json')],
  ])('%s at every byte is refused as cut, with line and column', (_, text, read) => {
    for (let length = 1; length < text.length; length++) {
      const outcome = read(text.slice(0, length));
      expect(outcome.ok, `${length}`).toBe(false);
      expect(outcome.problems[0], `${length}`).toMatchObject({
        severity: 'stop',
        where: { line: expect.any(Number) },
      });
    }
  });

  it('drawing anywhere before its end mark is refused by name', () => {
    const end = drawingText.lastIndexOf('EOF');
    const step = isLong ? 1 : Math.ceil(end / 60);
    for (let length = 0; length < end; length += step) {
      expect(readDxf(drawingText.slice(0, length), { fileName: 'x.dxf' }).ok, `${length}`).toBe(false);
    }
  });
});

describe(`files with faults put in, ${MUTATIONS} of each`, () => {
  it.each(FORMATS)('%s: each is refused by name or taken and savable', (_, text, read, planOf) => {
    const random = seeded(20_250_101);
    let taken = 0;
    for (let n = 0; n < MUTATIONS; n++) {
      const outcome = read(mutate(text, random));
      expectNamed(outcome);
      if (!outcome.ok) continue;
      taken += 1;
      const plan = planOf(outcome.value as never);
      if (plan) expectSavable(plan);
    }
    console.log(`${_}: ${MUTATIONS} faulty files, ${taken} taken, ${MUTATIONS - taken} refused`);
  });
});

describe('a file made to do harm', () => {
  const collection = (features: unknown, top = '') =>
    `{"type":"FeatureCollection","rillsheet":{"frame":"local-metres"}${top},"features":${JSON.stringify(features)}}`;
  const bed = (coordinates: unknown, more = {}) => ({
    type: 'Feature',
    id: 'a',
    properties: { kind: 'bed', ...more },
    geometry: { type: 'Polygon', coordinates },
  });
  const square = [
    [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
      [0, 0],
    ],
  ];

  it.each([
    ['not JSON', 'bed, 10 x 15 ft'],
    ['nothing at all', ''],
    ['another kind of JSON', '{"name":"package","version":"1.0.0"}'],
    ['nested 200,000 deep', '['.repeat(200_000)],
    [
      'nested 200,000 deep inside a bed',
      collection([bed('x')]).replace('"x"', `${'['.repeat(200_000)}${']'.repeat(200_000)}`),
    ],
    ['an infinite number', collection([bed(square)]).replace('[4,0]', '[1e999,0]')],
    ['a key into the language', collection([bed(square)], ',"__proto__":{"polluted":true}')],
    [
      'a key into the language among properties',
      collection([bed(square)]).replace('"kind":', '"__proto__":{"polluted":true},"kind":'),
    ],
    ['no bed', collection([])],
    [
      'coordinates off the earth',
      JSON.stringify({
        type: 'FeatureCollection',
        features: [
          bed([
            [
              [500, 95],
              [501, 95],
              [501, 96],
              [500, 95],
            ],
          ]),
        ],
      }),
    ],
    ['seventy million characters', `"${'x'.repeat(70_000_000)}"`],
  ])('%s is refused by name before it does any', (_, text) => {
    const outcome = readGeoJson(text, { fileName: 'x.geojson' });
    expect(outcome.ok).toBe(false);
    expectNamed(outcome);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it.each([
    [
      'a bow-tie',
      [
        [
          [0, 0],
          [4, 3],
          [4, 0],
          [0, 3],
          [0, 0],
        ],
      ],
    ],
    [
      'no area',
      [
        [
          [0, 0],
          [4, 0],
          [8, 0],
          [0, 0],
        ],
      ],
    ],
    [
      'a single point',
      [
        [
          [0, 0],
          [0, 0],
        ],
      ],
    ],
    [
      'a hole outside',
      [
        square[0],
        [
          [20, 20],
          [21, 20],
          [21, 21],
          [20, 20],
        ],
      ],
    ],
  ])('a bed with %s ends as a design or a named refusal, never as an exception', (_, coordinates) => {
    const outcome = readGeoJson(collection([bed(coordinates)]), { fileName: 'x.geojson' });
    expectNamed(outcome);
    if (!outcome.ok) return;
    const design = designPlan(outcome.value, typicalCatalog, { quality: 'preview' });
    const isRouted = design.beds.some((one) => one.layout.status === 'routed');
    expect(isRouted || design.findings.some((finding) => finding.severity === 'stop')).toBe(true);
    expectSaid(design.findings);
  });

  it('names that would break a sheet or a table come through every reader as they are', () => {
    const name = `=HYPERLINK("x")\u202e \u05d0\u05d1 \ud83c\udf3f ${'long '.repeat(500)}`;
    const outcome = readGeoJson(collection([bed(square, { name })]), { fileName: 'x.geojson' });
    expect(outcome.ok && outcome.value.beds.a?.name).toBe(name);
    if (outcome.ok) expect(readGeoJson(writePlanGeoJson(outcome.value), { fileName: 'x' }).ok).toBe(true);
  });
});
