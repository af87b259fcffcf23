import { KEYS, recallKeys } from '../actions/keyChoices';
import { runAction } from '../actions/run';
import { applyLook, LOOKS, type Look } from '../look/looks';
import { isStale, isTubingStale, isUnsaved, useDesk } from './desk';
import { layOutEmpty, openDemonstration, openGivenFile } from './files';
import { host } from './host';

const VISITED = 'visited';
const LOOK = 'look';

/** Puts the first plan on the desk: the demonstration at the first visit, a choice later on. */
export async function beginDesk(): Promise<void> {
  const remembered = await host.recall();
  recallKeys(remembered[KEYS] ?? '');
  rememberLook(remembered[LOOK]);
  host.onAction(runAction);
  let isGiven = false;
  host.onOpenFile((file) => {
    isGiven = true;
    openGivenFile(file);
  });
  tellUnsaved();
  publishDesignState();
  const isFirstVisit = remembered[VISITED] === undefined;
  void host.remember(VISITED, 'yes');
  if (isGiven) return;
  if (isFirstVisit) openDemonstration();
  else layOutEmpty();
  useDesk.setState({ isFirstVisit, panel: isFirstVisit ? 'none' : 'start' });
}

function rememberLook(stored: string | undefined): void {
  const look = LOOKS.find((one) => one === stored) ?? 'system';
  useDesk.setState({ look });
  applyLook(look);
  useDesk.subscribe((state, before) => {
    if (state.look === before.look) return;
    applyLook(state.look);
    void host.remember(LOOK, state.look satisfies Look);
  });
}

/** Closing the window asks first where work would be lost. */
function tellUnsaved(): void {
  useDesk.subscribe((state, before) => {
    if (isUnsaved(state) === isUnsaved(before)) return;
    host.setUnsaved(
      isUnsaved(state),
      state.fileName === '' ? state.history.plan.project.title : state.fileName,
    );
  });
}

/** Says on the page itself whether the figures, and the tubing ahead of them, answer for the plan that is shown: for assistive scripts and for tests. */
function publishDesignState(): void {
  useDesk.subscribe((state) => {
    const standing = state.design === null ? 'none' : isStale(state) ? 'stale' : state.design.quality;
    document.body.dataset.design = standing;
    document.body.dataset.tubing =
      state.design === null ? 'none' : isTubingStale(state) ? 'stale' : 'current';
  });
}
