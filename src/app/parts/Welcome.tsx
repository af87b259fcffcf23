import type { ReactElement } from 'react';
import { runAction } from '../actions/run';
import { useDesk } from '../state/desk';

/** At the first visit: what is on the desk, and the way to a plan of one's own. */
export function Welcome(): ReactElement | null {
  const isFirstVisit = useDesk((state) => state.isFirstVisit);
  if (!isFirstVisit) return null;
  const leave = (): void => useDesk.setState({ isFirstVisit: false });
  return (
    <aside className="welcome">
      <p>This is a demonstration plan. Press a bed, drag one of its corners, and watch its tubing follow.</p>
      <button
        type="button"
        className="act"
        onClick={() => {
          leave();
          runAction('plan.new');
        }}
      >
        New plan
      </button>
      <button
        type="button"
        className="act"
        onClick={() => {
          leave();
          runAction('plan.start');
        }}
      >
        Recent and recovered
      </button>
      <button type="button" className="act" onClick={leave}>
        Close
      </button>
    </aside>
  );
}
