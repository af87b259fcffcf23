import { create } from 'zustand';

/** Work under way outside the design: what it is, and how to stop it. */
export interface Busy {
  readonly label: string;
  readonly stop: () => void;
}

/** Several may go on at once; the one that began first is shown, so that a drawing renewed meanwhile does not hide what is waited for. */
export const useBusy = create<{ readonly busy: Busy | null }>(() => ({ busy: null }));

const underWay: Busy[] = [];
const showFirst = (): void => useBusy.setState({ busy: underWay[0] ?? null });

/** Does a piece of work that may be long, shows it, and lets it be stopped. Null where it was stopped. */
export async function during<T>(label: string, work: (signal: AbortSignal) => Promise<T>): Promise<T | null> {
  const control = new AbortController();
  const busy: Busy = { label, stop: () => control.abort() };
  underWay.push(busy);
  showFirst();
  const stopped = new Promise<null>((resolve) =>
    control.signal.addEventListener('abort', () => resolve(null)),
  );
  try {
    return await Promise.race([work(control.signal), stopped]);
  } finally {
    underWay.splice(underWay.indexOf(busy), 1);
    showFirst();
  }
}
