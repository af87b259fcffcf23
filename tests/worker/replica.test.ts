import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../src/core/catalog';
import { applyCommand, emptyPlan, type Plan, plainBed } from '../../src/core/plan';
import type { Reply } from '../../src/worker';
import { createReplica } from '../../src/worker/replica';
import { answerJob, type RouteAnswer, type RouteJob } from '../../src/worker/router';
import type { StartRouter } from '../../src/worker/routers';

const rectangle = (id: string, x: number) => {
  const points = [
    { x, y: 0 },
    { x: x + 3, y: 0 },
    { x: x + 3, y: 4 },
    { x, y: 4 },
  ];
  return plainBed(
    id,
    [{ points, edges: points.map(() => ({ class: null, offsetM: null, sagittaM: 0 })) }],
    id,
  );
};

const twoBeds = (): Plan => ({
  ...emptyPlan('garden'),
  beds: {
    left: { ...rectangle('left', 0), zoneKey: 'one' },
    right: { ...rectangle('right', 10), zoneKey: 'two' },
  },
});

function moved(plan: Plan, x: number) {
  const applied = applyCommand(plan, {
    name: 'move-corner',
    params: { id: 'right', ringIndex: 0, pointIndex: 1, to: { x, y: 0 } },
  });
  if (!applied.ok) throw new Error('the corner can be moved');
  return applied.value;
}

const remembered = new Map<string, RouteAnswer>();

/** The router's answer, found once for each question: these tests ask who is asked what, not how beds are routed. */
function answerOnce(job: RouteJob): RouteAnswer {
  const key = JSON.stringify({ ...job.input, previous: null });
  const answer = remembered.get(key) ?? answerJob(job);
  remembered.set(key, answer);
  return { ...answer, number: job.number };
}

/** A replica with everything it answers, routers that wait to be let go, and a way to let it finish. */
function bench(count = 2, breathe: (goOn: () => void) => void = (goOn) => goOn(), tickMs = 5) {
  const replies: Reply[] = [];
  const jobs: { readonly job: RouteJob; readonly go: () => void; isStopped: boolean }[] = [];
  const start: StartRouter = (answer) => {
    const mine: (typeof jobs)[number][] = [];
    return {
      ask(job) {
        const entry = { job, isStopped: false, go: () => answer(answerOnce(job)) };
        jobs.push(entry);
        mine.push(entry);
      },
      stop() {
        for (const entry of mine) entry.isStopped = true;
      },
    };
  };
  const waiting: (() => void)[] = [];
  let nowMs = 0;
  const replica = createReplica(
    (reply) => replies.push(reply),
    () => {
      nowMs += tickMs;
      return nowMs;
    },
    { count, start },
    (run) => waiting.push(run),
    breathe,
  );
  /** Does one piece of the work that is left for when nothing else is asked. False when there is none. */
  const idleOnce = (): boolean => {
    const run = waiting.shift();
    run?.();
    return run !== undefined;
  };
  /** Lets the oldest job that was not stopped answer. False when there is none. */
  const routeOne = (): boolean => {
    const at = jobs.findIndex((entry) => !entry.isStopped);
    if (at < 0) return false;
    jobs.splice(at, 1)[0]?.go();
    return true;
  };
  const finish = (): void => {
    replica.work();
    while (routeOne());
  };
  const designs = () => replies.flatMap((reply) => (reply.kind === 'designed' ? [reply] : []));
  return { replies, designs, jobs, replica, routeOne, finish, idleOnce };
}

describe('the worker beside the desk', () => {
  it('an edit of one bed sends that bed again and only names the other', () => {
    const { designs, replica, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    const { forward } = moved(plan, 14);
    replica.receive({ kind: 'edit', request: 2, patches: forward });
    finish();
    const sent = designs()
      .filter((reply) => reply.request === 2)
      .map((reply) => reply.parcel.beds);
    expect(sent.length).toBe(2);
    for (const beds of sent) {
      expect(beds[0]).toEqual({ kind: 'same', id: 'left' });
      expect(beds[1]?.kind).toBe('new');
    }
  });

  it('of many orders only the newest is designed', () => {
    const { replies, replica, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    for (let request = 2; request <= 6; request++) {
      replica.receive({ kind: 'try', request, patches: moved(plan, 13 + request / 10).forward });
    }
    finish();
    expect(new Set(replies.map((reply) => reply.request))).toEqual(new Set([6]));
  });

  it('a gesture is designed on top of the plan and leaves it as it was', () => {
    const { designs, replica, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    replica.receive({ kind: 'try', request: 2, patches: moved(plan, 16).forward });
    finish();
    replica.receive({ kind: 'edit', request: 3, patches: [] });
    finish();
    const replies = designs();
    const areas = replies.map((reply) =>
      reply.parcel.beds.map((sent) => (sent.kind === 'new' ? sent.item.layout.areaM2 : null)),
    );
    // 3 x 4 m, and with the corner moved out by 3 m: 3 x 4 + 3 x 4 / 2, by hand
    const whole = replies.findIndex(
      (reply) => reply.request === 1 && areas[replies.indexOf(reply)]?.length === 2,
    );
    expect(areas[whole]?.[1]).toBeCloseTo(12, 6);
    const tried = replies.findIndex((reply) => reply.request === 2);
    expect(areas[tried]?.[1]).toBeCloseTo(18, 6);
    const back = replies.findIndex((reply) => reply.request === 3);
    expect(areas[back]?.[1]).toBeCloseTo(12, 6);
  });

  it('the beds of a plan just opened are shown as they come, by the letters they keep', () => {
    const { designs, replica, routeOne, finish } = bench();
    replica.receive({ kind: 'open', request: 1, plan: twoBeds() });
    replica.work();
    expect(designs()).toEqual([]);
    routeOne();
    const [first] = designs();
    expect(first?.parcel.rest.quality).toBe('preview');
    expect(first?.parcel.beds.length).toBe(1);
    finish();
    const last = designs().at(-1);
    expect(last?.parcel.rest.quality).toBe('finished');
    expect(last?.parcel.beds.length).toBe(2);
    // beds stand in the order of their ids: left is A, right is B
    const rightFirst = bench();
    rightFirst.replica.receive({ kind: 'open', request: 1, plan: twoBeds() });
    rightFirst.replica.work();
    const right = rightFirst.jobs.find(({ job }) => job.input.bedId === 'right');
    right?.go();
    expect(rightFirst.designs()[0]?.parcel.beds).toMatchObject([
      { kind: 'new', item: { id: 'right', mark: 'B' } },
    ]);
  });

  it('an edit stops the finishing of the bed it changes and leaves the other to be finished', () => {
    const { designs, jobs, replica, routeOne, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    replica.work();
    routeOne();
    routeOne();
    const finishing = [...jobs];
    expect(finishing.map(({ job }) => job.input.quality)).toEqual(['finished', 'finished']);
    replica.receive({ kind: 'edit', request: 2, patches: moved(plan, 14).forward });
    replica.work();
    expect(finishing.map(({ job, isStopped }) => [job.input.bedId, isStopped])).toEqual([
      ['left', false],
      ['right', true],
    ]);
    finish();
    const answered = designs().map((reply) => `${reply.request} ${reply.parcel.rest.quality}`);
    expect(answered.at(-1)).toBe('2 finished');
    expect(answered).not.toContain('1 finished');
    const leftFinished = finishing[0]?.job.input;
    expect(jobs.some(({ job }) => job.input === leftFinished)).toBe(false);
  });

  it('what is dragged is seen to follow: a preview under way is let through, the newest comes next', () => {
    const { designs, replica, routeOne, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    replica.receive({ kind: 'try', request: 2, patches: moved(plan, 14).forward });
    replica.work();
    replica.receive({ kind: 'try', request: 3, patches: moved(plan, 14.5).forward });
    replica.receive({ kind: 'try', request: 4, patches: moved(plan, 15).forward });
    replica.work();
    routeOne();
    expect(designs().at(-1)?.request).toBe(2);
    finish();
    expect(designs().map((reply) => reply.request)).not.toContain(3);
    expect(designs().at(-1)?.request).toBe(4);
  });

  it('the tubing of a dragged bed is sent ahead of its design, and of no other bed', () => {
    const { replies, replica, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    const before = replies.length;
    replica.receive({ kind: 'try', request: 2, patches: moved(plan, 16).forward });
    finish();
    const [first, second, ...others] = replies.slice(before);
    expect([first?.kind, second?.kind, others.length]).toEqual(['routed', 'designed', 0]);
    const ahead = first?.kind === 'routed' ? first.beds : [];
    expect(ahead.map((bed) => bed.id)).toEqual(['right']);
    // 3 x 4 m, and with the corner moved out by 3 m: 3 x 4 + 3 x 4 / 2, by hand
    expect(ahead[0]?.layout.areaM2).toBeCloseTo(18, 6);
    expect(ahead[0]?.layout.runs.length).toBeGreaterThan(0);
  });

  it('the next route of what is dragged does not wait for the design of the last one', () => {
    const turns: (() => void)[] = [];
    const { replies, replica, jobs, finish, routeOne } = bench(2, (goOn) => turns.push(goOn));
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    while (turns.length > 0) {
      turns.shift()?.();
      while (routeOne());
    }
    const before = replies.length;
    replica.receive({ kind: 'try', request: 2, patches: moved(plan, 16).forward });
    finish();
    expect(replies.slice(before).map((reply) => reply.kind)).toEqual(['routed']);
    replica.receive({ kind: 'try', request: 3, patches: moved(plan, 17).forward });
    replica.work();
    expect(jobs.map(({ job }) => job.input.bedId)).toEqual(['right']);
    routeOne();
    while (turns.length > 0) turns.shift()?.();
    // The second route is on the desk before the first design; then both designs come, in their order.
    expect(replies.slice(before).map((reply) => `${reply.request} ${reply.kind}`)).toEqual([
      '2 routed',
      '3 routed',
      '2 designed',
      '3 designed',
    ]);
  });

  it('a long drag without a pause has its tubing at every move, and new lengths and pressures after at most some few', () => {
    const turns: (() => void)[] = [];
    // A tenth of a millisecond a look at the clock: a turn of 4 ms holds some 40 steps, as it does on a desk.
    const { replies, replica, finish, routeOne } = bench(2, (goOn) => turns.push(goOn), 0.1);
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    while (turns.length > 0) {
      turns.shift()?.();
      while (routeOne());
    }
    const before = replies.length;
    const moves = 24;
    for (let move = 0; move < moves; move++) {
      replica.receive({ kind: 'try', request: 2 + move, patches: moved(plan, 14 + move / 50).forward });
      replica.work();
      while (routeOne());
      turns.shift()?.();
    }
    const during = replies.slice(before);
    const routed = during.flatMap((reply) => (reply.kind === 'routed' ? [reply.request] : []));
    expect(routed).toEqual(Array.from({ length: moves }, (_, move) => 2 + move));
    const designed = during.flatMap((reply) => (reply.kind === 'designed' ? [reply] : []));
    const requests = designed.map((reply) => reply.request);
    expect(requests).toEqual([...requests].sort((a, b) => a - b));
    const waits = requests.map((request, index) => request - (requests[index - 1] ?? 2));
    expect(Math.max(...waits)).toBeLessThanOrEqual(5);
    expect(designed.length).toBeGreaterThan(moves / 5);
    const figures = designed.flatMap(({ parcel }) => {
      const bed = parcel.beds.flatMap((sent) => (sent.kind === 'new' ? [sent.item] : []))[0];
      const zone = parcel.zones.flatMap((sent) => (sent.kind === 'new' ? [sent.item] : []))[0];
      return bed && zone ? [[bed.layout.runs[0]?.lengthM, zone.emitterHeadM.min]] : [];
    });
    expect(figures.length).toBe(designed.length);
    expect(new Set(figures.map(([lengthM]) => lengthM)).size).toBe(designed.length);
    expect(new Set(figures.map(([, leastHeadM]) => leastHeadM)).size).toBe(designed.length);
  });

  it('another plan opened stops everything at once', () => {
    const { designs, jobs, replica, finish } = bench();
    replica.receive({ kind: 'open', request: 1, plan: twoBeds() });
    replica.work();
    const before = [...jobs];
    const { left } = twoBeds().beds;
    replica.receive({
      kind: 'open',
      request: 2,
      plan: { ...emptyPlan('yard'), beds: left ? { left: { ...left, name: 'alone' } } : {} },
    });
    finish();
    expect(before.some(({ job, isStopped }) => job.input.bedId === 'right' && !isStopped)).toBe(true);
    expect(new Set(designs().map((reply) => reply.request))).toEqual(new Set([2]));
  });

  it("the user's own parts take the place of the typical ones in every later design", () => {
    const { designs, replica, finish } = bench();
    replica.receive({ kind: 'open', request: 1, plan: twoBeds() });
    finish();
    const before = designs().at(-1);
    const driplines = typicalCatalog.driplines.map((dripline) => ({ ...dripline, emitterSpacingM: 0.2 }));
    replica.receive({ kind: 'parts', request: 2, catalog: { ...typicalCatalog, driplines } });
    finish();
    const spacing = (reply: typeof before) =>
      reply?.parcel.beds.map((bed) => (bed.kind === 'new' ? bed.item.choice.dripline.emitterSpacingM : null));
    expect(designs().at(-1)?.request).toBe(2);
    expect(spacing(designs().at(-1))).toEqual([0.2, 0.2]);
  });

  it('a bug in the router is said, and the next edit is designed all the same', () => {
    const replies: Reply[] = [];
    let isBroken = true;
    const replica = createReplica(
      (reply) => replies.push(reply),
      () => 0,
      {
        count: 1,
        start: (answer) => ({
          ask: (job) =>
            isBroken
              ? answer({ kind: 'failed', number: job.number, claim: 'a claim' })
              : answer(answerOnce(job)),
          stop: () => undefined,
        }),
      },
    );
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    replica.work();
    expect(replies).toEqual([{ kind: 'failed', request: 1, claim: 'a claim' }]);
    isBroken = false;
    replica.receive({ kind: 'edit', request: 2, patches: moved(plan, 14).forward });
    replica.work();
    expect(replies.at(-1)).toMatchObject({ kind: 'designed', request: 2 });
  });

  it('sends a finished design again with what is foreseen of it, once nothing else is asked', () => {
    const { designs, replica, finish, idleOnce } = bench();
    replica.receive({ kind: 'open', request: 1, plan: twoBeds() });
    finish();
    expect(designs().at(-1)?.parcel.rest.foresight).toBeNull();
    while (idleOnce());
    const last = designs().at(-1);
    expect(last?.request).toBe(1);
    expect(last?.parcel.rest.foresight?.zones.length).toBe(2);
    expect(last?.parcel.beds.every(({ kind }) => kind === 'same')).toBe(true);
  });

  it('works out what is foreseen a few solves at a time, so that a hand that begins to drag need not wait', () => {
    const { replica, finish, idleOnce } = bench();
    replica.receive({ kind: 'open', request: 1, plan: twoBeds() });
    finish();
    let turns = 0;
    while (idleOnce()) turns += 1;
    // Two zones built 200 times each, one build a step; the clock here ticks 5 ms a look, so that a turn of 12 ms holds three.
    expect(turns).toBeGreaterThan((2 * 200) / 3);
  });

  it('lets what is foreseen of an older plan go when a newer order comes', () => {
    const { designs, replica, finish, idleOnce } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    idleOnce();
    replica.receive({ kind: 'edit', request: 2, patches: moved(plan, 13.4).forward });
    while (idleOnce());
    expect(designs().filter(({ parcel }) => parcel.rest.foresight !== null)).toEqual([]);
  });
});
