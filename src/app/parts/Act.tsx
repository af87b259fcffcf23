import type { ReactElement } from 'react';
import { runAction } from '../actions/run';
import { actionByKey, keysInWords } from '../actions/table';
import { useTool } from '../state/tools';

/** An act at the head of the page: an underlined word, heavy while its tool is out. */
export function Act({ action, number }: { readonly action: string; readonly number?: number }): ReactElement {
  const entry = actionByKey(action);
  const isOut = useTool((state) => `tool.${state.key}` === action);
  const keys = keysInWords(entry);
  return (
    <button
      type="button"
      className={isOut ? 'act is-out' : 'act'}
      aria-pressed={action.startsWith('tool.') ? isOut : undefined}
      title={number === undefined ? keys : `${number}`}
      onClick={() => {
        runAction(action);
        if (action.startsWith('tool.')) document.getElementById('sketch')?.focus();
      }}
    >
      {entry.word ?? entry.name}
    </button>
  );
}
