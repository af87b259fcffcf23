import { typicalCatalog } from '../../core/catalog';
import type { Design } from '../../core/design';
import type { Plan, PlanPatch } from '../../core/plan';
import type { Order, Reply } from '../../worker';
import { memoryOf, NOTHING_SENT, type ParcelMemory, unpackDesign } from '../../worker';

/** What the engine tells the desk. */
export interface EngineListener {
  /** `plan` is the very plan the design was made for: another plan on the desk means the design is stale. */
  designed(design: Design, plan: Plan, tookMs: number): void;
  failed(claim: string): void;
  /** True while a plan newer than the last design is being worked on. */
  working(isWorking: boolean): void;
}

export interface Engine {
  open(plan: Plan): void;
  edit(patches: readonly PlanPatch[], after: Plan): void;
  /** A gesture under way. */
  attempt(patches: readonly PlanPatch[], after: Plan): void;
  /** Stops the work under way; the plan is kept and designed again at the next edit. */
  stop(): void;
}

type OrderWithoutNumber =
  | Omit<Extract<Order, { kind: 'open' }>, 'request'>
  | Omit<Extract<Order, { kind: 'edit' }>, 'request'>
  | Omit<Extract<Order, { kind: 'try' }>, 'request'>;

/** The window's end of the worker: numbers the requests and drops every answer but the newest. */
export function createEngine(listener: EngineListener): Engine {
  let worker = startWorker();
  let memory: ParcelMemory = NOTHING_SENT;
  let request = 0;
  let kept: Plan | null = null;
  let isStopped = false;
  const asked = new Map<number, Plan>();

  function startWorker(): Worker {
    const started = new Worker(new URL('../../worker/main.ts', import.meta.url), { type: 'module' });
    started.onmessage = (event: MessageEvent<Reply>) => take(event.data);
    started.onerror = (event) => listener.failed(event.message);
    return started;
  }

  function take(reply: Reply): void {
    const plan = asked.get(reply.request);
    if (reply.kind === 'failed') {
      listener.working(false);
      listener.failed(reply.claim);
      return;
    }
    if (plan === undefined) throw new Error(`an answer to request ${reply.request}, which was never made`);
    const design = unpackDesign(reply.parcel, memory, plan, typicalCatalog);
    memory = memoryOf(design);
    for (const old of asked.keys()) if (old < reply.request) asked.delete(old);
    listener.designed(design, plan, reply.tookMs);
    if (reply.request === request) listener.working(design.quality === 'preview');
  }

  function send(order: OrderWithoutNumber, plan: Plan): void {
    request += 1;
    asked.set(request, plan);
    worker.postMessage({ ...order, request } as Order);
    listener.working(true);
  }

  function revive(): void {
    if (!isStopped) return;
    isStopped = false;
    worker = startWorker();
    memory = NOTHING_SENT;
  }

  return {
    open(plan) {
      revive();
      kept = plan;
      send({ kind: 'open', plan }, plan);
    },
    edit(patches, after) {
      kept = after;
      if (isStopped) {
        revive();
        send({ kind: 'open', plan: after }, after);
      } else send({ kind: 'edit', patches }, after);
    },
    attempt(patches, after) {
      if (!isStopped && kept !== null) send({ kind: 'try', patches }, after);
    },
    stop() {
      worker.terminate();
      isStopped = true;
      asked.clear();
      listener.working(false);
    },
  };
}
