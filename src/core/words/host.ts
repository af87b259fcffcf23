import { type Sentences, text } from './types';

const ELSEWHERE = 'Save under another name or in another place; the work on the desk is untouched.';

/** Sentences for what the machine's disk and the program's surroundings refuse. */
export const hostSentences: Sentences = {
  'host.disk-full': () => ({
    what: 'The disk is full.',
    why: 'There was no room for the whole file; the version saved before still stands there unchanged.',
    next: `Make room, or save to another disk. ${ELSEWHERE}`,
  }),
  'host.read-only': () => ({
    what: 'The file or its folder may not be written.',
    why: 'It is marked read-only, or belongs to somebody else.',
    next: ELSEWHERE,
  }),
  'host.folder-gone': () => ({
    what: 'The folder of the file is gone.',
    why: 'It was moved or removed, or its drive was taken out.',
    next: `Put the drive back in and save again. ${ELSEWHERE}`,
  }),
  'host.in-use': () => ({
    what: 'Another program holds the file.',
    why: 'The system does not let it be replaced while it is in use.',
    next: `Close it there and save again. ${ELSEWHERE}`,
  }),
  'host.not-as-written': () => ({
    what: 'What was written does not read back the same.',
    why: 'The disk or its connection is at fault; the version saved before still stands there unchanged.',
    next: `Save to another disk. ${ELSEWHERE}`,
  }),
  'host.cannot-write': (params) => ({
    what: `The file could not be written: ${text(params, 'detail')}.`,
    why: 'The system refused; the version saved before still stands there unchanged.',
    next: ELSEWHERE,
  }),
  'host.changed-outside': () => ({
    what: 'The file was changed by another window or program since it was opened here.',
    why: 'Saving over it would lose what was done there. Neither version was touched.',
    next: 'Save this one under another name, then open the other and compare.',
  }),
  'host.open-elsewhere': () => ({
    what: 'This plan is open in another window too.',
    why: 'Whichever is saved second is asked before it replaces the first.',
    next: 'Close one of the two.',
  }),
  'host.unknown-file': () => ({
    what: 'The place of this file is not known here any more.',
    why: 'Only files that were chosen in this run of the program can be written.',
    next: ELSEWHERE,
  }),
  'host.cannot-read': (params) => ({
    what: `The file could not be read: ${text(params, 'detail')}.`,
    why: 'It was moved or removed, or may not be read.',
    next: 'Choose it again where it is now.',
  }),
  'host.not-a-file': () => ({
    what: 'This is no plain file.',
    why: 'A folder or a device stands under that name.',
    next: 'Choose the file itself.',
  }),
  'host.too-large': () => ({
    what: 'The file is larger than 64 MB.',
    why: 'No plan is; reading it could stop the machine.',
    next: 'Check that it is the right file.',
  }),
  'host.no-recent': () => ({
    what: 'A browser on its own remembers no places.',
    why: 'It does not let a page read a file again by itself.',
    next: 'Open the file by choosing it.',
  }),
  'host.not-answering': () => ({
    what: 'The program that serves this page has stopped.',
    why: 'It was closed, or this computer slept for long.',
    next: 'Leave this page open, start the program again, and save from here by Save as.',
  }),
};
