import type { ReactElement } from 'react';
import { create } from 'zustand';
import { useDesk } from './desk';

/** A question laid over the book, whose answer something waits for. */
export interface Question {
  readonly label: string;
  readonly body: ReactElement;
  readonly settle: (answer: unknown) => void;
}

export const useQuestion = create<{ readonly current: Question | null }>(() => ({ current: null }));

/** Lays a question over the book and waits. Null where it is put away unanswered. */
export function ask<T>(label: string, body: (answer: (value: T) => void) => ReactElement): Promise<T | null> {
  return new Promise((resolve) => {
    const settle = (answer: unknown): void => {
      useQuestion.setState({ current: null });
      useDesk.setState({ panel: 'none' });
      resolve(answer as T | null);
    };
    useQuestion.setState({ current: { label, body: body(settle), settle } });
    useDesk.setState({ panel: 'question' });
  });
}
