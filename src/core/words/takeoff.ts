import { figure, type Sentences, text } from './types';

/** What a person reads of the takeoff. */
export const takeoffSentences: Sentences = {
  'takeoff.splice-near-tee': (params, print) => ({
    what: `A splice in a run of ${print.tubing(figure(params, 'lengthM'))} comes nearer to a tee than it should.`,
    why: 'Two feet of straight tubing are wanted between fittings, and the tees of this run leave no such place within one roll.',
    next: 'Choose a longer roll in the parts list, or a layout with fewer tees.',
  }),
  'takeoff.no-roll': (params, print) => ({
    what: `No roll is on the parts list for ${print.tubing(figure(params, 'lengthM'))} of tubing (${text(params, 'name') || 'blank tubing'}).`,
    why: 'It could not be put on the order or the cut list.',
    next: 'Add the part with its roll lengths to your parts file.',
  }),
  'takeoff.part-missing': (params) => ({
    what: `No part of the list serves as "${text(params, 'use')}"; ${figure(params, 'count')} are needed.`,
    why: 'They are missing from the takeoff and from the order.',
    next: 'Add such a part to your parts file.',
  }),
  'takeoff.unpriced': (params) => ({
    what: `${figure(params, 'count')} lines have no price: ${text(params, 'parts')}.`,
    why: 'The cost shown leaves them out.',
    next: 'Fill in their prices in your parts file.',
  }),
};

/** Names of the tasks of the labour table, by code. */
export const TASK_NAMES: Readonly<Record<string, string>> = {
  'lay-tubing': 'Roll out and lay tubing',
  'set-staples': 'Set staples',
  'make-joins': 'Make joins in tubing',
  'trench-and-pipe': 'Trench, lay pipe, backfill',
  'set-sleeves': 'Set sleeves',
  'set-assemblies': 'Set valve assemblies in boxes',
  'pull-wire': 'Lay wire',
  'set-controller': 'Set and wire the controller',
  'flush-and-test': 'Flush, test and adjust each zone',
};
