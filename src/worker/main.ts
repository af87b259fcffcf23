import './strictPolicy';
import type { Order, Reply } from './protocol';
import { createReplica } from './replica';
import type { RouteAnswer } from './router';
import type { Router, StartRouter } from './routers';

/** The slice of a worker's scope used here: the full worker library clashes with the window's. */
interface WorkerScope {
  onmessage: ((event: { readonly data: Order }) => void) | null;
  postMessage(reply: Reply): void;
}

/** Beds routed side by side: one processor is left to the window, and memory sets a limit. */
const ROUTERS = Math.min(4, Math.max(2, (navigator.hardwareConcurrency ?? 2) - 1));

const scope = globalThis as unknown as WorkerScope;

const startRouter: StartRouter = (answer): Router => {
  const worker = new Worker(new URL('./routerMain.ts', import.meta.url), { type: 'module' });
  let asked = 0;
  worker.onmessage = (event: MessageEvent<RouteAnswer>) => answer(event.data);
  worker.onerror = (event) => answer({ kind: 'failed', number: asked, claim: event.message });
  return {
    ask(job) {
      asked = job.number;
      worker.postMessage(job);
    },
    stop: () => worker.terminate(),
  };
};
/** Runs something in a turn of its own, without the wait that a timer adds. */
const turns = new MessageChannel();
const turnsWaiting: (() => void)[] = [];
turns.port1.onmessage = () => turnsWaiting.shift()?.();
function takeTurn(run: () => void): void {
  turnsWaiting.push(run);
  turns.port2.postMessage(null);
}

const replica = createReplica(
  (reply) => scope.postMessage(reply),
  () => performance.now(),
  { count: ROUTERS, start: startRouter },
  (run) => setTimeout(run, 0),
  takeTurn,
);
let isScheduled = false;

// One turn of the event queue before the work, so that every order already sent is taken before the next design.
scope.onmessage = (event) => {
  replica.receive(event.data);
  if (isScheduled) return;
  isScheduled = true;
  takeTurn(() => {
    isScheduled = false;
    replica.work();
  });
};
