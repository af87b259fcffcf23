import { type Sentences, text } from './types';

const NOT_SOLVED = 'Solving the rest would answer another question than the file asks.';

/** What a person reads of an EPANET network file coming in. */
export const epanetSentences: Sentences = {
  'exchange.inp-too-large': () => ({
    what: 'The file is larger than 4 MB of text.',
    why: 'That is far beyond one irrigation zone.',
    next: 'Cut the network to the part you want solved.',
  }),
  'exchange.inp-not-a-network': () => ({
    what: 'The file holds no section of an EPANET network.',
    why: 'A network file begins its parts with headings such as [JUNCTIONS] and [PIPES].',
    next: 'Export the network as an EPANET input file (.inp).',
  }),
  'exchange.inp-no-nodes': () => ({
    what: 'The file lists no junctions and no reservoirs.',
    why: 'There is nothing to solve.',
    next: 'Check that the network was exported whole.',
  }),
  'exchange.inp-unknown-section': (params) => ({
    what: `The section ${text(params, 'text')} is not known and was passed over.`,
    why: 'Its lines may say something about the network that the answer then lacks.',
    next: 'Check its spelling.',
  }),
  'exchange.inp-refuses-section': (params) => ({
    what: `The file has ${text(params, 'section')}, which this solver does not take.`,
    why: NOT_SOLVED,
    next: `Take the ${text(params, 'section')} out, or replace them by fixed heads and demands for the moment you want solved.`,
  }),
  'exchange.inp-refuses-pattern': (params) => ({
    what: `Pattern "${text(params, 'text')}" is named here; patterns are not taken.`,
    why: NOT_SOLVED,
    next: 'Write the value for the moment you want solved, without a pattern.',
  }),
  'exchange.inp-refuses-valve': (params) => ({
    what: `The valve ${text(params, 'text')} is of a type this solver does not take.`,
    why: `Pressure-reducing (PRV) and general-purpose (GPV) valves are taken. ${NOT_SOLVED}`,
    next: 'Replace it by a general-purpose valve with a curve, or by a pipe with a minor loss.',
  }),
  'exchange.inp-refuses-check-valve': (params) => ({
    what: `The pipe ${text(params, 'text')} has a check valve, which this solver does not take.`,
    why: NOT_SOLVED,
    next: 'Set it Open or Closed, whichever holds for the moment you want solved.',
  }),
  'exchange.inp-refuses-option': (params) => ({
    what: `"${text(params, 'text')}" is not taken.`,
    why: NOT_SOLVED,
    next: 'Take the line out, or use Headloss H-W or D-W, Demand Model DDA or PDA, and status Open or Closed.',
  }),
  'exchange.inp-bad-unit': (params) => ({
    what: `"${text(params, 'text')}" names no unit that is known.`,
    why: 'Every figure of the file depends on its units.',
    next: 'Use a flow unit such as GPM, LPS or LPM, and PSI, METERS or KPA for pressure.',
  }),
  'exchange.inp-bad-number': (params) => ({
    what: `"${text(params, 'text')}" is not a number that can stand here.`,
    why: 'Guessing it would change the answer.',
    next: 'Correct the figure on this line.',
  }),
  'exchange.inp-too-short': (params) => ({
    what: `The line ends before its ${text(params, 'what')}.`,
    why: 'Guessing it would change the answer.',
    next: 'Complete the line.',
  }),
  'exchange.inp-unknown-id': (params) => ({
    what: `"${text(params, 'text')}" is named here but not defined where it should be.`,
    why: 'The network cannot be put together without it.',
    next: 'Correct the name, or define it.',
  }),
  'exchange.inp-double-id': (params) => ({
    what: `"${text(params, 'text')}" is defined twice.`,
    why: 'It is not clear which of the two is meant.',
    next: 'Rename or remove one.',
  }),
  'exchange.inp-one-moment': () => ({
    what: 'The file asks for a simulation over time; its first moment is solved.',
    why: 'This solver answers one steady state.',
    next: 'Set the duration to 0 if that is what you want.',
  }),
};
