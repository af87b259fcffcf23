import { type Catalog, typicalCatalog } from '../core/catalog';
import {
  createDesignCache,
  type Design,
  designPlan,
  foresightSteps,
  keepRoute,
  wantedRoutes,
  withForesight,
} from '../core/design';
import { applyPlanPatches, type Plan } from '../core/plan';
import { memoryOf, NOTHING_SENT, packDesign } from './parcel';
import type { Order, Reply } from './protocol';
import { createRouters, type StartRouter } from './routers';

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
 */
export function createReplica(
  answer: (reply: Reply) => void,
  clock: () => number,
  routers: { readonly count: number; readonly start: StartRouter },
  later: (run: () => void) => void = () => undefined,
): Replica {
  let plan: Plan | null = null;
  let catalog: Catalog = typicalCatalog;
  let task: Task | null = null;
  let next: Task | null = null;
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
    sent = memoryOf(design);
  };
  const sendBedsSoFar = (whole: Task, waitingIds: ReadonlySet<string>): void => {
    const there = Object.entries(whole.plan.beds).filter(([id]) => !waitingIds.has(id));
    if (there.length <= bedsSeen) return;
    bedsSeen = there.length;
    const part = { ...whole.plan, beds: Object.fromEntries(there) };
    send(whole, designPlan(part, catalog, { quality: 'preview', cache, whole: whole.plan }));
  };
  /** The task that follows a finished one. */
  const after = (done: Task): Task | null => {
    const newer = next;
    next = null;
    if (newer !== null) return newer;
    const isToFinish = done.quality === 'preview' && !done.isTrial;
    return isToFinish ? { ...done, quality: 'finished', isFirstSight: false } : null;
  };
  /** Works out, between orders, what follows from a finished design, and sends it again with that. A newer order ends it. */
  const foresee = (done: Task, design: Design): void => {
    const steps = foresightSteps(design, cache);
    const goOn = (index: number): void =>
      later(() => {
        if (done.request !== newestRequest) return;
        steps[index]?.();
        if (index + 1 < steps.length) goOn(index + 1);
        else send(done, withForesight(design, cache));
      });
    if (steps.length > 0) goOn(0);
  };
  /** One step of the task. False when it waits for a route. */
  const advance = (current: Task): boolean => {
    const wanted = wantedRoutes(current.plan, catalog, current.quality, cache);
    if (wanted.length === 0) {
      const design = designPlan(current.plan, catalog, { quality: current.quality, cache });
      send(current, design);
      task = after(current);
      if (task === null && current.quality === 'finished') foresee(current, design);
      return true;
    }
    pool.want(wanted);
    if (current.isFirstSight) sendBedsSoFar(current, new Set(wanted.map((route) => route.bedId)));
    return false;
  };
  function work(): void {
    if (task === null) {
      task = next;
      next = null;
    }
    while (task !== null) {
      try {
        if (!advance(task)) return;
      } catch (error) {
        answer({ kind: 'failed', request: task.request, claim: String(error) });
        task = next;
        next = null;
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
      const isPassing = task?.quality === 'preview' && order.kind !== 'open' && order.kind !== 'parts';
      if (!isPassing) task = null;
    },
    work,
  };
}
