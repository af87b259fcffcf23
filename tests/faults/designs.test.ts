import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../src/core/catalog';
import { designPlan } from '../../src/core/design';
import { readGeoJson, writePlanGeoJson } from '../../src/core/exchange';
import { type Outcome, type Problem, printer } from '../../src/core/units';
import { sayProblem } from '../../src/core/words';

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

describe('a bed that cannot be built', () => {
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
