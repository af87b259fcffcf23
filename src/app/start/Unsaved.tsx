import type { ReactElement } from 'react';
import { Dialog } from '../parts/Dialog';
import { answerUnsaved } from '../state/files';

/** Asks before work would be put away unsaved. */
export function Unsaved(): ReactElement {
  return (
    <Dialog label="Unsaved work" isClosable={false}>
      <h2>This plan has work that is not saved.</h2>
      <div className="start-acts">
        <button type="button" className="mend" onClick={() => void answerUnsaved('save')}>
          <strong>Save</strong> <span>then go on</span>
        </button>
        <button type="button" className="mend" onClick={() => void answerUnsaved('leave')}>
          <strong>Do not save</strong> <span>the work is lost</span>
        </button>
        <button type="button" className="mend" onClick={() => void answerUnsaved('stay')}>
          <strong>Stay</strong> <span>with this plan</span>
        </button>
      </div>
    </Dialog>
  );
}
