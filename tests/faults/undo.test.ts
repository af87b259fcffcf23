import { expect, it } from 'vitest';
import {
  applyPlanPatches,
  COMMAND_NAMES,
  type Command,
  type CommandName,
  emptyPlan,
  ITEM_MAPS,
  type Plan,
  perform,
  plainBed,
  plainSource,
  redo,
  startHistory,
  undo,
  writePlan,
} from '../../src/core/plan';
import { amount, isLong, report } from './amounts';
import { seeded } from './mutate';

type Random = () => number;
const pick = <T>(list: readonly T[], random: Random): T => list[Math.floor(random() * list.length)]!;
const place = (random: Random) => ({ x: random() * 200 - 100, y: random() * 200 - 100 });
const whole = (most: number, random: Random) => Math.floor(random() * most);
const IDS = ['a', 'b', 'c', 'd', 'constructor', 'x y'];

function bed(id: string, random: Random) {
  const points = Array.from({ length: 3 + whole(4, random) }, () => place(random));
  const edges = points.map(() => ({ class: null, offsetM: null, sagittaM: random() - 0.5 }));
  return plainBed(id, [{ points, edges }]);
}
const ITEMS: readonly ((id: string, random: Random) => { map: string; item: unknown })[] = [
  (id, random) => ({ map: 'beds', item: bed(id, random) }),
  (id, random) => ({
    map: 'trees',
    item: { id, name: '', at: place(random), trunkRadiusM: 0.2, canopyRadiusM: 2 },
  }),
  (id, random) => ({ map: 'plants', item: { id, name: id, at: place(random), rootBallRadiusM: 0.3 } }),
  (id, random) => ({ map: 'sources', item: plainSource(id, place(random)) }),
  (id, random) => ({ map: 'spots', item: { id, at: place(random), elevationM: random() } }),
  (id, random) => ({
    map: 'utilities',
    item: { id, name: '', path: [place(random), place(random)], depthM: null },
  }),
  (id) => ({ map: 'trees', item: { id, name: 'not a tree' } }),
];

/** Something that is there, most of the time. */
function refs(plan: Plan, random: Random) {
  const all = ITEM_MAPS.flatMap((map) => Object.keys(plan[map]).map((id) => ({ map, id })));
  return random() < 0.1 || all.length === 0
    ? [{ map: 'beds', id: 'nowhere' }]
    : [pick(all, random), pick(all, random)].slice(whole(2, random));
}
const corner = (plan: Plan, random: Random) => ({
  id: pick([...Object.keys(plan.beds), 'nowhere'], random),
  ringIndex: 0,
  pointIndex: whole(6, random),
});

const routePlace = (plan: Plan, random: Random) => ({
  id: corner(plan, random).id,
  runIndex: whole(2, random),
  pointIndex: whole(6, random),
});
function route(random: Random) {
  const path = Array.from({ length: 7 }, () => place(random));
  return { role: 'loop' as const, closed: true, path: [...path, { ...path[0]! }] };
}

/** A command of each name, sound or not: what a hand, a script or a damaged journal might ask for. */
const PARAMS: Readonly<Record<CommandName, (plan: Plan, random: Random) => Record<string, unknown>>> = {
  'put-item': (_, random) => pick(ITEMS, random)(pick(IDS, random), random),
  'change-items': (plan, random) => ({
    items: refs(plan, random),
    changes: pick([{ name: 'n' }, { at: place(random) }, { wrong: 1 }], random),
  }),
  'change-each': (plan, random) => ({
    each: refs(plan, random).map((ref) => ({
      ...ref,
      changes: pick([{ name: `n${whole(5, random)}` }, { at: place(random) }, { wrong: 1 }], random),
    })),
  }),
  'set-bed': (plan, random) => ({
    id: corner(plan, random).id,
    changes: pick(
      [{ soil: 'clay' }, { rowSpacingM: random() }, { slopeRatio: -1 }, { treeRings: true }],
      random,
    ),
  }),
  'remove-items': (plan, random) => ({ items: refs(plan, random).slice(0, 1) }),
  'replace-items': (plan, random) => ({
    remove: refs(plan, random).slice(0, 1),
    put: [pick(ITEMS, random)(pick(IDS, random), random)],
  }),
  'keep-headers': (_, random) => ({
    headers: [
      {
        id: pick(IDS, random),
        role: 'header',
        zoneKey: null,
        path: [place(random), place(random)],
        pipeId: null,
      },
      pick(ITEMS, random)(pick(IDS, random), random).item,
    ].slice(0, 1 + whole(2, random)),
  }),
  'move-items': (plan, random) => ({
    items: refs(plan, random),
    dx: random(),
    dy: pick([0, random(), 1e12], random),
  }),
  'turn-items': (plan, random) => ({
    items: refs(plan, random),
    about: place(random),
    angleRad: random() * 6,
  }),
  'mirror-items': (plan, random) => ({ items: refs(plan, random), from: place(random), to: place(random) }),
  'move-corner': (plan, random) => ({ ...corner(plan, random), to: place(random) }),
  'insert-corner': (plan, random) => ({ ...corner(plan, random), at: place(random) }),
  'remove-corner': (plan, random) => corner(plan, random),
  'set-edge': (plan, random) => ({
    ...corner(plan, random),
    changes: pick([{ class: 'paving' }, { sagittaM: random() }, { class: 'lava' }], random),
  }),
  'set-route': (plan, random) => ({
    id: corner(plan, random).id,
    runs: pick([null, [route(random)], [route(random), route(random)]], random),
  }),
  'lock-routes': (plan, random) => ({
    routes: [corner(plan, random), corner(plan, random)].map(({ id }) => ({ id, runs: [route(random)] })),
  }),
  'move-route-point': (plan, random) => ({ ...routePlace(plan, random), to: place(random) }),
  'insert-route-point': (plan, random) => ({ ...routePlace(plan, random), at: place(random) }),
  'remove-route-point': (plan, random) => routePlace(plan, random),
  'set-project': (_, random) => ({ changes: { title: `t${whole(5, random)}` } }),
  'set-display': (_, random) => ({ changes: { units: pick(['us', 'metric', 'cubits'], random) } }),
  'set-site': (_, random) => ({ changes: { soil: pick(['sand', 'loam', null], random) } }),
  'set-georeference': (_, random) => ({
    georeference: pick([null, { longitudeDeg: random(), latitudeDeg: random(), bearingRad: 0 }], random),
  }),
  'set-setting': (_, random) => ({
    key: pick(['rowStretchRatio', 'mulchDepthM', 'constructor', '__proto__'], random),
    value: pick([null, random(), 5], random),
  }),
};

it('any edits, all taken back and all done again, end where they were: the plan, its file and a replica', {
  timeout: 3_600_000,
}, () => {
  const sequences = amount(200, 10_000);
  const length = isLong ? 50 : 30;
  const counts = { sequences, edits: 0, 'refused by name': 0, different: 0 };
  const used = new Set<CommandName>();
  for (let run = 0; run < sequences; run++) {
    const random = seeded(run);
    const first = startHistory({
      ...emptyPlan('p'),
      beds: { a: { ...bed('a', random), lockedRoute: [route(random)] } },
    });
    let history = first;
    let replica = first.plan;
    const texts = [writePlan(first.plan)];
    for (let n = 0; n < length; n++) {
      const name = pick(COMMAND_NAMES, random);
      const done = perform(history, { name, params: PARAMS[name](history.plan, random) } as Command);
      if (!done.ok) {
        counts['refused by name'] += 1;
        expect(done.problems[0]?.code).toMatch(/^plan\./);
        continue;
      }
      if (done.value.history === history) continue;
      history = done.value.history;
      replica = applyPlanPatches(replica, done.value.applied.forward);
      texts.push(writePlan(history.plan));
      used.add(name);
      counts.edits += 1;
    }
    const last = history.plan;
    const differs = (): boolean =>
      writePlan(replica) !== texts[history.past.length] ||
      writePlan(history.plan) !== texts[history.past.length];
    for (let back = undo(history); back !== null; back = undo(history)) {
      history = back.history;
      replica = applyPlanPatches(replica, back.patches);
      if (differs()) counts.different += 1;
    }
    expect(history.plan).toBe(first.plan);
    for (let again = redo(history); again !== null; again = redo(history)) {
      history = again.history;
      replica = applyPlanPatches(replica, again.patches);
      if (differs()) counts.different += 1;
    }
    expect(history.plan).toBe(last);
  }
  report('undo model', counts);
  expect(counts.different).toBe(0);
  expect([...used].sort()).toEqual([...COMMAND_NAMES].sort());
});
