import type { ReactElement } from 'react';
import { runAction } from '../actions/run';
import { ACTIONS, keysInWords } from '../actions/table';
import { HeadMenu } from './HeadMenu';

/** What can be done with the plan as a whole, opened from its name. */
export function PlanMenu({ name }: { readonly name: string }): ReactElement {
  return (
    <HeadMenu label={name} className="plan-name">
      {(close) =>
        ACTIONS.filter((action) => action.group === 'Plan').map((action) => (
          <li key={action.key}>
            <button
              type="button"
              onClick={() => {
                close();
                runAction(action.key);
              }}
            >
              {action.name} <kbd>{keysInWords(action)}</kbd>
            </button>
          </li>
        ))
      }
    </HeadMenu>
  );
}
