import './strictPolicy';
import { doErrand, type Errand, type ErrandAnswer } from './errand';

/** The slice of a worker's scope used here: the full worker library clashes with the window's. */
interface ErrandScope {
  onmessage: ((event: { readonly data: Errand }) => void) | null;
  postMessage(answer: ErrandAnswer): void;
}

const scope = globalThis as unknown as ErrandScope;
scope.onmessage = (event) => scope.postMessage(doErrand(event.data));
