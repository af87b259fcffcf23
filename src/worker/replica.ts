import { typicalCatalog } from '../core/catalog';
import { createDesignCache, designPlan } from '../core/design';
import { applyPlanPatches, type Plan } from '../core/plan';
import { memoryOf, NOTHING_SENT, packDesign } from './parcel';
import type { Order, Reply } from './protocol';

/** One turn of work: a quick design first, then the finished one. */
interface Task {
  readonly request: number;
  readonly plan: Plan;
  readonly quality: 'preview' | 'finished';
  readonly isTrial: boolean;
}

export interface Replica {
  /** Takes an order at once; the work it asks for replaces any that waits. */
  receive(order: Order): void;
  /** Does the waiting work. False when there was none. */
  work(): boolean;
}

/**
 * The worker's own copy of the plan and the one waiting task.
 * Orders are cheap and taken in turn; designing is dear, so only the newest plan is ever designed.
 *
 * @param answer called with each reply
 * @param clock  milliseconds, for the time a design took
 */
export function createReplica(answer: (reply: Reply) => void, clock: () => number): Replica {
  let plan: Plan | null = null;
  let waiting: Task | null = null;
  let sent = NOTHING_SENT;
  const cache = createDesignCache();

  const planAfter = (order: Order): Plan => {
    if (order.kind === 'open') return order.plan;
    if (plan === null) throw new Error('an edit came before any plan was opened');
    return applyPlanPatches(plan, order.patches);
  };

  const run = (task: Task): void => {
    const began = clock();
    try {
      const design = designPlan(task.plan, typicalCatalog, { quality: task.quality, cache });
      const parcel = packDesign(design, sent);
      answer({ kind: 'designed', request: task.request, parcel, tookMs: clock() - began });
      sent = memoryOf(design);
    } catch (error) {
      answer({ kind: 'failed', request: task.request, claim: String(error) });
    }
  };

  return {
    receive(order) {
      const next = planAfter(order);
      if (order.kind !== 'try') plan = next;
      waiting = { request: order.request, plan: next, quality: 'preview', isTrial: order.kind === 'try' };
    },
    work() {
      const task = waiting;
      if (task === null) return false;
      waiting = null;
      run(task);
      if (task.quality === 'preview' && !task.isTrial) waiting = { ...task, quality: 'finished' };
      return true;
    },
  };
}
