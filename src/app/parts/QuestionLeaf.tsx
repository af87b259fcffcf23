import type { ReactElement } from 'react';
import { useQuestion } from '../state/question';
import { Dialog } from './Dialog';

/** The question that something waits for. */
export function QuestionLeaf(): ReactElement | null {
  const question = useQuestion((state) => state.current);
  if (!question) return null;
  const { label, body, settle } = question;
  return (
    <Dialog label={label} className="walk-through" onClose={() => settle(null)}>
      {body}
    </Dialog>
  );
}
