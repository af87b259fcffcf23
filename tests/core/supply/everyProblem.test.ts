import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import type { Plan } from '../../../src/core/plan';
import { designSupply, type ServedBed } from '../../../src/core/supply';
import { printer } from '../../../src/core/units';
import { sayProblem } from '../../../src/core/words';
import { GPM, loamDripline, loopLayout, PSI, planWithSource, servedBed, smallBed, withBed } from './made';

const at = { x: -3, y: -2 };
const site = withBed(planWithSource(at), smallBed);
const sourced = (changes: Parameters<typeof planWithSource>[1]): Plan =>
  withBed(planWithSource(at, changes), smallBed);

interface Case {
  readonly plan?: Plan;
  readonly bed?: Partial<ServedBed>;
  readonly catalog?: typeof typicalCatalog;
}

/** Every code of a finished supply: of the plan, of its zones, and their reasons. */
function problemsOf({ plan = site, bed = {}, catalog = typicalCatalog }: Case) {
  const beds = [servedBed(plan, smallBed, bed)];
  const supply = designSupply({ plan, catalog, beds, quality: 'finished' });
  return [...supply.problems, ...supply.zones.flatMap((zone) => [...zone.problems, ...zone.why])];
}

const sound: Case = {};
const unmeasured = { staticHeadM: null, lowestStaticHeadM: null, flowTestM3s: null, flowTestHeadM: null };
const court: Plan['structures'] = {
  court: {
    id: 'court',
    name: 'court',
    kind: 'building',
    clearanceM: null,
    shape: {
      kind: 'area',
      rings: [
        [
          { x: -2, y: -2 },
          { x: 7, y: -2 },
          { x: 7, y: 6 },
          { x: -2, y: 6 },
        ],
        [
          { x: -1, y: 5 },
          { x: 6, y: 5 },
          { x: 6, y: -1 },
          { x: -1, y: -1 },
        ],
      ],
    },
  },
};
const valveAt = (x: number, y: number): Plan['valves'] => ({
  v: { id: 'v', name: '', at: { x, y }, elevationM: null, zoneKey: null, assemblyId: null },
});
const apart = (): Partial<ServedBed> => {
  const layout = loopLayout(smallBed);
  const [loop] = layout.runs;
  const stray = { ...loop!, id: 'stray', path: loop!.path.map(({ x, y }) => ({ x, y: y + 0.2 })) };
  return { layout: { ...layout, runs: [loop!, stray] } };
};
const narrowWindow = {
  ...typicalCatalog,
  assemblies: typicalCatalog.assemblies.map((one) => ({ ...one, maxFlowM3s: 0.3 * GPM })),
};
/** Every assembly set to 5 psi: half of what the emitters need. */
const weakSetting = {
  ...typicalCatalog,
  assemblies: typicalCatalog.assemblies.map((one) => ({ ...one, regulatedHeadM: 5 * PSI })),
};
const shed: Plan['structures'] = {
  shed: {
    id: 'shed',
    name: 'shed',
    kind: 'building',
    clearanceM: null,
    shape: {
      kind: 'area',
      rings: [
        [
          { x: -3, y: 1 },
          { x: -1, y: 1 },
          { x: -1, y: 2 },
          { x: -3, y: 2 },
        ],
      ],
    },
  },
};
/** The site with a shed and a valve west of it, and a header drawn by hand through these places. */
const drawnThrough = (
  zoneKey: string | null,
  ...places: readonly (readonly [x: number, y: number])[]
): Case => ({
  plan: {
    ...site,
    structures: shed,
    valves: valveAt(-5, 1.5),
    lockedPipes: {
      h: { id: 'h', role: 'header', zoneKey, path: places.map(([x, y]) => ({ x, y })), pipeId: null },
    },
  },
});

/** What the supply may say, a case in which it must, and one just beside it in which it must not. */
const CASES: readonly [code: string, speaks: Case, silent: Case][] = [
  ['no-source', { plan: { ...site, sources: {} } }, sound],
  ['pressure-not-measured', { plan: sourced(unmeasured) }, sound],
  ['no-flow-test', { plan: sourced({ flowTestM3s: null, flowTestHeadM: null }) }, sound],
  ['lowest-not-known', { plan: sourced({ lowestStaticHeadM: null }) }, sound],
  [
    'test-does-not-fall',
    { plan: sourced({ flowTestHeadM: 65 * PSI }) },
    { plan: sourced({ flowTestHeadM: 64 * PSI }) },
  ],
  // The test fell by 10 psi: from 9 psi at the lowest nothing would be left, from 11 one is.
  [
    'test-below-nothing',
    { plan: sourced({ lowestStaticHeadM: 9 * PSI }) },
    { plan: sourced({ lowestStaticHeadM: 11 * PSI }) },
  ],
  [
    'no-way-to-bed',
    { plan: { ...site, structures: court, valves: valveAt(-3, 2) } },
    { plan: { ...site, valves: valveAt(-3, 2) } },
  ],
  [
    'no-way-to-assembly',
    { plan: { ...site, structures: court, valves: valveAt(-0.5, -0.5) } },
    { plan: { ...site, valves: valveAt(-0.5, -0.5) } },
  ],
  ['run-not-joined', { bed: apart() }, sound],
  ['zone-over-assembly', { catalog: narrowWindow }, sound],
  [
    'zone-over-supply',
    { plan: sourced({ flowTestM3s: 0.6 * GPM, flowTestHeadM: 60 * PSI }) },
    { plan: sourced({ flowTestM3s: 6 * GPM, flowTestHeadM: 60 * PSI }) },
  ],
  ['setting-too-low', { catalog: weakSetting }, sound],
  ['zone-refused', { bed: { dripline: { ...loamDripline, insideDiameterM: 0 } } }, sound],
  ['drawn-pipe-through', drawnThrough(null, [-5, 1.5], [0, 1.5]), drawnThrough(null, [-5, 0.5], [0, 0.5])],
  // A pipe may come out of the wall it hangs on: 0.2 m of it, not 0.5.
  [
    'drawn-pipe-through',
    drawnThrough(null, [-1.5, 1.5], [0, 1.5]),
    drawnThrough(null, [-1.2, 1.5], [0, 1.5]),
  ],
  [
    'drawn-pipe-feeds-nothing',
    drawnThrough(null, [-5, 1.5], [-5, 6]),
    drawnThrough(null, [-5, 1.5], [-5, 0.5], [-0.2, 0.5]),
  ],
  [
    'drawn-pipe-of-no-zone',
    drawnThrough('gone', [-5, 0.5], [0, 0.5]),
    drawnThrough('zone-1', [-5, 0.5], [0, 0.5]),
  ],
  ['zone-chosen', { bed: { zoneKey: 'front' } }, sound],
  ['zone-alike', sound, { bed: { zoneKey: 'front' } }],
];

describe('what the supply says', () => {
  it.each(CASES)('supply.%s: where it is so, and not beside it', (name, speaks, silent) => {
    const code = `supply.${name}`;
    const found = problemsOf(speaks).filter((problem) => problem.code === code);
    expect(found.length).toBeGreaterThan(0);
    expect(problemsOf(silent).map((problem) => problem.code)).not.toContain(code);
    for (const problem of found) {
      const said = sayProblem(problem, printer('us'));
      for (const part of [said.what, said.why, said.next]) expect(part.length).toBeGreaterThan(10);
    }
  });

  it('supply.pipes-cross: where two headers drawn by hand lie over each other, at that place, and not where they part', () => {
    const second = { ...smallBed, id: 'bed-b', x: 0, y: -12 };
    const crossing = (toY: number) => {
      const drawn = (id: string, path: { x: number; y: number }[]) => ({
        [id]: { id, role: 'header' as const, zoneKey: id, path, pipeId: null },
      });
      const plan: Plan = {
        ...withBed(site, second),
        lockedPipes: {
          ...drawn('one', [
            { x: -9, y: -8 },
            { x: -5, y: 0 },
          ]),
          ...drawn('two', [
            { x: -9, y: 0 },
            { x: -5, y: toY },
          ]),
        },
        valves: {
          v: {
            id: 'v',
            name: '',
            at: { x: -9.5, y: -8 },
            elevationM: null,
            zoneKey: 'one',
            assemblyId: null,
          },
          w: { id: 'w', name: '', at: { x: -9.5, y: 0 }, elevationM: null, zoneKey: 'two', assemblyId: null },
        },
      };
      const beds = [
        servedBed(plan, smallBed, { zoneKey: 'one' }),
        servedBed(plan, second, { zoneKey: 'two' }),
      ];
      const { problems } = designSupply({ plan, catalog: typicalCatalog, beds, quality: 'preview' });
      return problems.filter(({ code }) => code === 'supply.pipes-cross').map(({ where }) => where);
    };
    // By hand: up from (-9, -8) and down from (-9, 0) with the same slope 2 they meet at x = -7, y = -4.
    expect(crossing(-8).some(({ x, y }) => Math.hypot(x! + 7, y! + 4) < 0.001)).toBe(true);
    expect(crossing(2).some(({ x, y }) => Math.hypot(x! + 7, y! + 4) < 1)).toBe(false);
  });
});
