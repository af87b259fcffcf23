import { type ReactElement, useEffect, useState } from 'react';
import { runAction } from '../actions/run';
import { useBusy } from '../state/busy';
import { type DeskState, isStale, isUnsaved, useDesk } from '../state/desk';
import { nameOfEdit } from '../state/done';
import { stopDesigning } from '../state/edit';
import { DoneMenu } from './DoneMenu';
import { PlanMenu } from './PlanMenu';

/** Head of the sketch: what plan this is, whether it is kept, what can be undone, and what the program has to say. */
export function Header(): ReactElement {
  const title = useDesk((state) => state.history.plan.project.title);
  const fileName = useDesk((state) => state.fileName);
  const savedAt = useDesk((state) => state.savedAt);
  const isChanged = useDesk(isUnsaved);
  const undo = useDesk((state) => state.history.past.at(-1));
  const redo = useDesk((state) => state.history.future[0]);
  const name = title !== '' ? title : fileName !== '' ? fileName : 'Untitled plan';
  const kept = isChanged ? 'not saved' : savedAt === '' ? '' : `saved ${savedAt}`;
  return (
    <header className="head">
      <PlanMenu name={name} />
      <span className="kept">{kept}</span>
      <button type="button" className="act" disabled={!undo} onClick={() => runAction('edit.undo')}>
        Undo{undo ? `: ${nameOfEdit(undo)}` : ''}
      </button>
      <button type="button" className="act" disabled={!redo} onClick={() => runAction('edit.redo')}>
        Redo{redo ? `: ${nameOfEdit(redo)}` : ''}
      </button>
      <DoneMenu />
      <Said />
      <OtherWork />
      <Working />
      <button type="button" className="find-act" onClick={() => runAction('help.find')}>
        Find an action <kbd>F3</kbd>
      </button>
    </header>
  );
}

function Said(): ReactElement {
  const message = useDesk((state) => state.message);
  const fault = useDesk((state) => state.engineFault);
  const text =
    fault !== '' ? `The design broke off: ${fault}` : message ? `${message.text} ${message.next}` : '';
  const severity = fault !== '' ? 'stop' : (message?.severity ?? 'note');
  return (
    <output className={`said ink-${severity}`} aria-live="polite" title={text}>
      {text}
    </output>
  );
}

/** Reading or drawing that is not the design's. */
function OtherWork(): ReactElement | null {
  const busy = useBusy((state) => state.busy);
  const isLong = useLong(busy);
  if (!busy || !isLong) return null;
  return (
    <span className="stale">
      <progress aria-label={busy.label} /> {busy.label}
      <button type="button" className="act" onClick={busy.stop}>
        Stop
      </button>
    </span>
  );
}

/** Shown only where the work takes long enough to be noticed. */
const LONG_MS = 400;

/** True once the same work has gone on for long enough to be shown. */
function useLong(work: unknown): boolean {
  const [isLong, setLong] = useState(false);
  useEffect(() => {
    setLong(false);
    if (!work) return;
    const timer = setTimeout(() => setLong(true), LONG_MS);
    return () => clearTimeout(timer);
  }, [work]);
  return isLong;
}

/** What a design that was stopped leaves on the page; empty where it is whole. */
function whatStopLeft(state: DeskState): string {
  if (state.design === null)
    return Object.keys(state.history.plan.beds).length > 0 ? 'nothing is designed yet' : '';
  if (isStale(state)) return 'figures are stale';
  return state.design.quality === 'preview' ? 'figures are a first pass' : '';
}

function Working(): ReactElement | null {
  const isWorking = useDesk((state) => state.isWorking);
  const stale = useDesk(isStale);
  const isLong = useLong(isWorking);
  const left = useDesk(whatStopLeft);
  if (!isWorking && left !== '') return <span className="stale">stopped; {left}</span>;
  if (!isLong) return null;
  return (
    <span className="stale">
      <progress aria-label="Working out the design" /> {stale ? 'stale, working it out' : 'finishing'}
      <button type="button" className="act" onClick={stopDesigning}>
        Stop
      </button>
    </span>
  );
}
