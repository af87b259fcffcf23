import { type Sentences, text } from './types';

const NOTHING_READ = 'No part of the file was taken.';

/** What a person reads of a parts file that cannot be used. */
export const catalogSentences: Sentences = {
  'catalog.parts-too-large': () => ({
    what: 'The parts file is far larger than a list of parts can be.',
    why: NOTHING_READ,
    next: 'Check that it is the right file.',
  }),
  'catalog.parts-not-json': () => ({
    what: 'The parts file is not sound JSON.',
    why: NOTHING_READ,
    next: 'Check brackets, commas and quotes, or save the list as CSV.',
  }),
  'catalog.parts-not-a-table': (params) => ({
    what: `The parts table cannot be read: ${text(params, 'reason')}.`,
    why: NOTHING_READ,
    next: 'Check the quotes of that line.',
  }),
  'catalog.not-a-parts-file': () => ({
    what: 'The file does not say that it is a parts file.',
    why: NOTHING_READ,
    next: 'JSON needs "format": "rillsheet-parts", "version": 1 and a list of parts; a table needs the columns kind and id.',
  }),
  'catalog.bad-part': (params) => ({
    what: `The part has a figure that cannot be used${text(params, 'figure') === '' ? '' : `, ${text(params, 'figure')}`}: ${text(params, 'reason')}.`,
    why: NOTHING_READ,
    next: 'Correct the figure; lengths are in metres, pressures in metres of water, flows in m3/s.',
  }),
  'catalog.unknown-figure': (params) => ({
    what: `The part has figures nobody knows: ${text(params, 'names')}.`,
    why: `A misspelt figure would be lost without a word. ${NOTHING_READ}`,
    next: 'Correct the name, or take it out.',
  }),
  'catalog.same-id': (params) => ({
    what: `Two parts of the file have the id ${text(params, 'id')}.`,
    why: `It cannot be told which is meant. ${NOTHING_READ}`,
    next: 'Give each part an id of its own.',
  }),
};
