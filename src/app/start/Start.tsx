import { type ReactElement, useEffect, useState } from 'react';
import { applyPlanPatches, emptyPlan, type PlanPatch } from '../../core/plan';
import type { RecentFile, RecoveredPlan } from '../../host/contract';
import { runAction } from '../actions/run';
import { Dialog } from '../parts/Dialog';
import { say, useDesk } from '../state/desk';
import { layOutRecovered, openRecentPlan } from '../state/files';
import { host } from '../state/host';

const leave = (): void => useDesk.setState({ panel: 'none' });

/** The first leaf of a later visit: new, recent, recovered, demonstration. */
export function Start(): ReactElement {
  const [recent, setRecent] = useState<readonly RecentFile[]>([]);
  const [recovered, setRecovered] = useState<readonly RecoveredPlan[]>([]);
  useEffect(() => {
    void host.recent().then(setRecent);
    void host.journalRead().then(setRecovered);
  }, []);
  const act = (key: string) => () => {
    leave();
    runAction(key);
  };
  return (
    <Dialog label="Start" className="start">
      <h1>Rillsheet</h1>
      <p>A plan of the beds goes in; a sheet for the crew comes out.</p>
      <div className="start-acts">
        <button type="button" className="mend" onClick={act('plan.new')}>
          <strong>New plan</strong> <span>site, water and a first bed</span>
        </button>
        <button type="button" className="mend" onClick={act('plan.open')}>
          <strong>Open</strong> <span>a plan, or a site as GeoJSON</span>
        </button>
        <button type="button" className="mend" onClick={act('plan.demonstration')}>
          <strong>Demonstration</strong> <span>an invented plot with every part</span>
        </button>
      </div>
      <h2>Recent</h2>
      {recent.length === 0 ? (
        <p className="faint">Plans you have opened or saved here will stand on these lines.</p>
      ) : null}
      <ul className="start-list">
        {recent.map((file) => (
          <li key={file.token}>
            <button
              type="button"
              className="act"
              onClick={() => {
                leave();
                openRecentPlan(file);
              }}
            >
              {file.name}
            </button>
            <span className="aside">{file.openedAt.slice(0, 10)}</span>
          </li>
        ))}
      </ul>
      {recovered.length > 0 ? <h2>Recovered</h2> : null}
      <ul className="start-list">
        {recovered.map((plan) => (
          <li key={plan.planId}>
            <button type="button" className="act" onClick={() => recover(plan)}>
              {plan.name === plan.planId ? 'A plan that was not saved' : plan.name}
            </button>
            <span className="aside">{plan.lines.length} edits</span>
            <button
              type="button"
              className="act"
              onClick={() => {
                void host.journalClear(plan.planId).then(() => host.journalRead().then(setRecovered));
              }}
            >
              Discard
            </button>
          </li>
        ))}
      </ul>
    </Dialog>
  );
}

/** The journal's first line is the plan as it was; the rest are the edits since. */
function recover(found: RecoveredPlan): void {
  leave();
  try {
    const steps = found.lines.map((line) => JSON.parse(line) as { base?: unknown; patches?: PlanPatch[] });
    const base = steps.findLast((step) => step.base !== undefined);
    const from = base ? steps.indexOf(base) : -1;
    let plan = (base?.base ?? emptyPlan(found.planId)) as ReturnType<typeof emptyPlan>;
    for (const step of steps.slice(from + 1)) plan = applyPlanPatches(plan, step.patches ?? []);
    layOutRecovered(plan);
  } catch {
    say('The journal of this plan cannot be read.', 'stop', 'Open its last saved file.');
  }
}
