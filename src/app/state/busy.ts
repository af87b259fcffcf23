import { create } from 'zustand';

/** Work under way outside the design: what it is, and how to stop it. */
export interface Busy {
  readonly label: string;
  readonly stop: () => void;
}

export const useBusy = create<{ readonly busy: Busy | null }>(() => ({ busy: null }));

/** Does a piece of work that may be long, shows it, and lets it be stopped. Null where it was stopped. */
export async function during<T>(label: string, work: (signal: AbortSignal) => Promise<T>): Promise<T | null> {
  const control = new AbortController();
  const busy: Busy = { label, stop: () => control.abort() };
  useBusy.setState({ busy });
  const stopped = new Promise<null>((resolve) =>
    control.signal.addEventListener('abort', () => resolve(null)),
  );
  try {
    return await Promise.race([work(control.signal), stopped]);
  } finally {
    if (useBusy.getState().busy === busy) useBusy.setState({ busy: null });
  }
}
