import { answerJob, type RouteAnswer, type RouteJob } from './router';

/** The slice of a worker's scope used here: the full worker library clashes with the window's. */
interface RouterScope {
  onmessage: ((event: { readonly data: RouteJob }) => void) | null;
  postMessage(answer: RouteAnswer): void;
}

const scope = globalThis as unknown as RouterScope;
scope.onmessage = (event) => scope.postMessage(answerJob(event.data));
