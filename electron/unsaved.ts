import { type BrowserWindow, dialog } from 'electron';
import { ACTION_CHANNEL } from './channels';

const ANSWERS = ['Save', 'Keep working', 'Close without saving'] as const;

/** What stands between a window and its closing. */
export interface UnsavedWork {
  /** The page says whether closing would lose work; null: nothing would be lost. */
  tell(planName: string | null): void;
  /** A save ended; only one that was done lets the window go. */
  saveEnded(isDone: boolean): void;
  /** Holds the window back while there is unsaved work and asks; one of the two is called with the answer. */
  watch(window: BrowserWindow, next: Next): void;
}

interface Next {
  /** The window may close. */
  readonly go: () => void;
  /** It stays, and so does the program. */
  readonly stay: () => void;
}

/** Asks before work is lost; whatever is answered, the recovery journal keeps it. */
export function createUnsavedWork(): UnsavedWork {
  let name: string | null = null;
  let isAsking = false;
  let afterSave: Next | null = null;

  const ask = async (window: BrowserWindow, next: Next): Promise<void> => {
    const { response } = await dialog.showMessageBox(window, {
      type: 'warning',
      message: `"${name}" has changes that are not saved.`,
      detail:
        'If you close without saving, they are kept in the recovery journal and offered at the next start.',
      buttons: [...ANSWERS],
      defaultId: 0,
      cancelId: 1,
    });
    if (ANSWERS[response] === 'Close without saving') next.go();
    else if (ANSWERS[response] === 'Save') {
      afterSave = next;
      window.webContents.send(ACTION_CHANNEL, 'plan.save');
    } else next.stay();
  };
  return {
    tell(planName) {
      name = planName;
      if (name !== null) return;
      afterSave?.go();
      afterSave = null;
    },
    saveEnded(isDone) {
      if (isDone) return;
      afterSave?.stay();
      afterSave = null;
    },
    watch(window, next) {
      let mayGo = false;
      window.on('close', (event) => {
        if (mayGo || name === null) return;
        event.preventDefault();
        if (isAsking) return;
        isAsking = true;
        const go = (): void => {
          mayGo = true;
          next.go();
        };
        ask(window, { go, stay: next.stay }).finally(() => {
          isAsking = false;
        });
      });
    },
  };
}
