import { type Catalog, typicalCatalog } from '../core/catalog';
import {
  createDesignCache,
  type Design,
  designPlan,
  designSteps,
  foresightSteps,
  keepRoute,
  routedBeds,
  wantedRoutes,
} from '../core/design';
import { applyPlanPatches, type Plan } from '../core/plan';
import { memoryOf, NOTHING_SENT, packDesign } from './parcel';
import type { Order, Reply } from './protocol';
import { createRouters, type StartRouter } from './routers';

/** A design is made this long at a time: a hand that drags on meanwhile sees its next tubing first. */
const DESIGN_TURN_MS = 4;

/** What is foreseen is worked out this long at a time: a hand that begins to drag meanwhile does not feel the wait. */
const FORESIGHT_TURN_MS = 12;

/** One turn of work: a quick design first, then the finished one. */
interface Task {
  readonly request: number;
  readonly plan: Plan;
  readonly quality: 'preview' | 'finished';
  readonly isTrial: boolean;
  readonly beganMs: number;
  /** True for the first design of a plan just opened: its beds are shown as they come. */
  readonly isFirstSight: boolean;
}

/** A design being worked out stage by stage, once its routes are known. */
interface Making {
  readonly task: Task;
  readonly steps: ReturnType<typeof designSteps>;
}

export interface Replica {
  /** Takes an order at once. The work it asks for replaces any that waits, and any finishing that is under way. */
  receive(order: Order): void;
  /** Goes on with the work as far as it can without waiting for a route. */
  work(): void;
}

/**
 * The worker's own copy of the plan and the work on it. Routes are found by routers beside it, several beds at a time and each of
 * them stoppable, so that a newer plan never waits for the finish of an older one. A preview under way is let through: what is
 * dragged must be seen to follow.
 *
 * @param answer  called with each reply
 * @param clock   milliseconds, for the time a design took
 * @param routers how many beds are routed at a time, and how a router is started
 * @param later   does a piece of work once orders that wait were taken; absent: nothing is foreseen
 * @param breathe goes on with a design once orders and routes that wait were taken; absent: goes on at once
 */
export function createReplica(
  answer: (reply: Reply) => void,
  clock: () => number,
  routers: { readonly count: number; readonly start: StartRouter },
  later: (run: () => void) => void = () => undefined,
  breathe: (goOn: () => void) => void = (goOn) => goOn(),
): Replica {
  let plan: Plan | null = null;
  let catalog: Catalog = typicalCatalog;
  let task: Task | null = null;
  let next: Task | null = null;
  let making: Making | null = null;
  /** Routed while another design was being made: made when that one is done. */
  let ready: Task | null = null;
  let sent = NOTHING_SENT;
  let bedsSeen = 0;
  let newestRequest = 0;
  const cache = createDesignCache();

  const pool = createRouters(
    routers.count,
    routers.start,
    (route, parts) => {
      keepRoute(cache, route, parts);
      work();
    },
    (claim) => fail(claim),
  );

  const fail = (claim: string): void => {
    if (task === null) return;
    answer({ kind: 'failed', request: task.request, claim });
    pool.rest();
    task = null;
    work();
  };
  const planAfter = (order: Order): Plan => {
    if (order.kind === 'open') return order.plan;
    if (plan === null) throw new Error('an edit came before any plan was opened');
    return order.kind === 'parts' ? plan : applyPlanPatches(plan, order.patches);
  };
  const send = (done: Task, design: Design): void => {
    const parcel = packDesign(design, sent);
    answer({ kind: 'designed', request: done.request, parcel, tookMs: clock() - done.beganMs });
    sent = memoryOf(design, parcel, sent);
  };
  const sendBedsSoFar = (whole: Task, waitingIds: ReadonlySet<string>): void => {
    const there = Object.entries(whole.plan.beds).filter(([id]) => !waitingIds.has(id));
    if (there.length <= bedsSeen) return;
    bedsSeen = there.length;
    const part = { ...whole.plan, beds: Object.fromEntries(there) };
    send(whole, designPlan(part, catalog, { quality: 'preview', cache, whole: whole.plan }));
  };
  /** The tubing of beds that were routed anew goes ahead of the design: a hand that drags is looking at it. */
  const sendRoutes = (current: Task): void => {
    const last = sent.beds;
    const beds = routedBeds(current.plan, catalog, { quality: current.quality, cache }).filter(
      (bed) => bed.layout !== last.get(bed.id)?.layout,
    );
    if (last.size > 0 && beds.length > 0)
      answer({ kind: 'routed', request: current.request, beds, tookMs: clock() - current.beganMs });
  };
  /** Works out, between orders, what follows from a finished design, and sends it again with that. A newer order ends it. */
  const foresee = (done: Task, design: Design): void => {
    const steps = foresightSteps(design, cache);
    const goOn = (): void =>
      later(() => {
        if (done.request !== newestRequest) return;
        const untilMs = clock() + FORESIGHT_TURN_MS;
        let step = steps.next();
        while (!step.done && clock() < untilMs) step = steps.next();
        if (step.done) send(done, step.value);
        else goOn();
      });
    if (design.supply.zones.length > 0) goOn();
  };
  /** What comes after a design that is done: what was routed meanwhile, else the finish of this one. */
  const finish = (done: Task, design: Design): void => {
    making = null;
    send(done, design);
    const newer = ready;
    ready = null;
    if (newer !== null) make(newer);
    else if (task === null && next === null) {
      if (done.quality === 'finished') foresee(done, design);
      else if (!done.isTrial) task = { ...done, quality: 'finished', isFirstSight: false };
    }
  };
  /** Does the next steps of the design being made, and the others in turns of their own. */
  const goOn = (mine: Making): void => {
    if (making !== mine) return;
    try {
      const untilMs = clock() + DESIGN_TURN_MS;
      let step = mine.steps.next();
      while (!step.done && clock() < untilMs) step = mine.steps.next();
      if (step.done) finish(mine.task, step.value);
      else breathe(() => goOn(mine));
    } catch (error) {
      making = null;
      answer({ kind: 'failed', request: mine.task.request, claim: String(error) });
    }
    if (making === null) work();
  };
  function make(routed: Task): void {
    const mine: Making = {
      task: routed,
      steps: designSteps(routed.plan, catalog, { quality: routed.quality, cache }),
    };
    making = mine;
    goOn(mine);
  }
  /** Asks for the routes a task waits for; when it has them all it goes on to be designed. False while it waits. */
  const advance = (current: Task): boolean => {
    const wanted = wantedRoutes(current.plan, catalog, current.quality, cache);
    if (wanted.length > 0) {
      pool.want(wanted);
      if (current.isFirstSight) sendBedsSoFar(current, new Set(wanted.map((route) => route.bedId)));
      return false;
    }
    task = null;
    if (current.quality === 'preview' && !current.isFirstSight) sendRoutes(current);
    if (making === null) make(current);
    else ready = current;
    return true;
  };
  function work(): void {
    for (;;) {
      if (task === null) {
        task = next;
        next = null;
      }
      if (task === null) return;
      const current = task;
      try {
        if (!advance(current)) return;
      } catch (error) {
        answer({ kind: 'failed', request: current.request, claim: String(error) });
        if (task === current) task = null;
      }
    }
  }

  return {
    receive(order) {
      const edited = planAfter(order);
      newestRequest = order.request;
      if (order.kind !== 'try') plan = edited;
      if (order.kind === 'parts') catalog = order.catalog;
      if (order.kind === 'open') bedsSeen = 0;
      next = {
        request: order.request,
        plan: edited,
        quality: 'preview',
        isTrial: order.kind === 'try',
        beganMs: clock(),
        isFirstSight: order.kind === 'open',
      };
      const isAnew = order.kind === 'open' || order.kind === 'parts';
      if (isAnew || task?.quality === 'finished') task = null;
      if (isAnew || making?.task.quality === 'finished') making = null;
      if (isAnew || ready?.quality === 'finished') ready = null;
    },
    work,
  };
}
