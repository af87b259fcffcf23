/** Names of the messages between the page and the shell. Nothing else is answered. */
export const CALL_CHANNELS = [
  'open',
  'recent',
  'openRecent',
  'save',
  'saveAs',
  'exportBytes',
  'print',
  'journalAppend',
  'journalRead',
  'journalClear',
  'setUnsaved',
  'ready',
] as const;
export type CallChannel = (typeof CALL_CHANNELS)[number];
/** Messages from the shell to the page. */
export const ACTION_CHANNEL = 'action';
export const OPEN_FILE_CHANNEL = 'open-file';
