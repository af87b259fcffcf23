import { type Catalog, typicalCatalog } from '../../core/catalog';
import type { Design, DesignedBed } from '../../core/design';
import type { Plan, PlanPatch } from '../../core/plan';
import type { Order, Reply } from '../../worker';
import { memoryOf, NOTHING_SENT, type ParcelMemory, unpackDesign } from '../../worker';
import { withRoutes } from './routes';

/** What the engine tells the desk. */
export interface EngineListener {
  /** `plan` is the very plan the design was made for: another plan on the desk means the design is stale. */
  designed(design: Design, plan: Plan, tookMs: number): void;
  /** The tubing alone of some beds of `plan`, ahead of its design. */
  routed(beds: readonly DesignedBed[], plan: Plan): void;
  failed(claim: string): void;
  /** True while a plan newer than the last design is being worked on. */
  working(isWorking: boolean): void;
}

export interface Engine {
  open(plan: Plan): void;
  edit(patches: readonly PlanPatch[], after: Plan): void;
  /** A gesture under way. */
  attempt(patches: readonly PlanPatch[], after: Plan): void;
  /** Designs with these parts from now on, the plan on the desk at once. */
  useParts(catalog: Catalog): void;
  /** Stops the work under way; the plan is kept and designed again at the next edit. */
  stop(): void;
}

type OrderWithoutNumber =
  | Omit<Extract<Order, { kind: 'open' }>, 'request'>
  | Omit<Extract<Order, { kind: 'edit' }>, 'request'>
  | Omit<Extract<Order, { kind: 'parts' }>, 'request'>
  | Omit<Extract<Order, { kind: 'try' }>, 'request'>;

/** The window's end of the worker: numbers the requests and drops every answer but the newest. */
export function createEngine(listener: EngineListener): Engine {
  let worker = startWorker();
  let memory: ParcelMemory = NOTHING_SENT;
  let request = 0;
  let kept: Plan | null = null;
  let catalog = typicalCatalog;
  /** The parts the present worker designs with. */
  let given = typicalCatalog;
  let isStopped = false;
  /** The newest routes that came ahead of their design. */
  let ahead: {
    readonly request: number;
    readonly beds: readonly DesignedBed[];
    readonly plan: Plan;
  } | null = null;
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
    if (reply.kind === 'routed') {
      ahead = { request: reply.request, beds: reply.beds, plan };
      listener.routed(reply.beds, plan);
      return;
    }
    const design = unpackDesign(reply.parcel, memory, plan, catalog);
    memory = memoryOf(design, reply.parcel, memory);
    for (const old of asked.keys()) if (old < reply.request) asked.delete(old);
    if (ahead !== null && ahead.request <= reply.request) ahead = null;
    // Tubing of a newer plan that came meanwhile stays on the desk: what is dragged never goes a step back.
    listener.designed(
      ahead === null ? design : withRoutes(design, ahead.beds, ahead.plan),
      plan,
      reply.tookMs,
    );
    if (reply.request === request) listener.working(design.quality === 'preview');
  }

  function send(order: OrderWithoutNumber, plan: Plan): void {
    request += 1;
    asked.set(request, plan);
    worker.postMessage({ ...order, request } as Order);
    listener.working(true);
  }

  /** Gives a plan to the worker, to a fresh one after a stop; a fresh worker knows the typical parts alone. */
  function openPlan(plan: Plan): void {
    kept = plan;
    if (isStopped) {
      isStopped = false;
      worker = startWorker();
      memory = NOTHING_SENT;
      given = typicalCatalog;
    }
    send({ kind: 'open', plan }, plan);
    if (given !== catalog) giveParts(plan);
  }

  function giveParts(plan: Plan): void {
    given = catalog;
    send({ kind: 'parts', catalog }, plan);
  }

  return {
    open: openPlan,
    edit(patches, after) {
      if (isStopped) openPlan(after);
      else {
        kept = after;
        send({ kind: 'edit', patches }, after);
      }
    },
    useParts(parts) {
      catalog = parts;
      if (kept === null) return;
      if (isStopped) openPlan(kept);
      else giveParts(kept);
    },
    attempt(patches, after) {
      if (!isStopped && kept !== null) send({ kind: 'try', patches }, after);
    },
    stop() {
      worker.terminate();
      isStopped = true;
      ahead = null;
      asked.clear();
      listener.working(false);
    },
  };
}
