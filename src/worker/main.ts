import './strictPolicy';
import type { Order, Reply } from './protocol';
import { createReplica } from './replica';

/** The slice of a worker's scope used here: the full worker library clashes with the window's. */
interface WorkerScope {
  onmessage: ((event: { readonly data: Order }) => void) | null;
  postMessage(reply: Reply): void;
}

const scope = globalThis as unknown as WorkerScope;
const replica = createReplica(
  (reply) => scope.postMessage(reply),
  () => performance.now(),
);
let isScheduled = false;

// One turn of the event queue between pieces of work, so that every order already sent is taken before the next design.
function schedule(): void {
  if (isScheduled) return;
  isScheduled = true;
  setTimeout(() => {
    isScheduled = false;
    if (replica.work()) schedule();
  }, 0);
}

scope.onmessage = (event) => {
  replica.receive(event.data);
  schedule();
};
