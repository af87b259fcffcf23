import { type Sentences, text } from './types';

/** What a person reads when a typed figure cannot be understood. */
export const unitsSentences: Sentences = {
  'units.empty': () => ({
    what: 'Nothing is typed here.',
    why: 'The drawing needs a figure to go on with.',
    next: `Type a figure with its unit, such as 12'-6" or 3.81 m.`,
  }),
  'units.too-long': () => ({
    what: 'This is too long to be one figure.',
    why: 'A figure and its unit fit in a few characters; this looks like a pasted text.',
    next: 'Clear the field and type one figure with its unit.',
  }),
  'units.no-number': (params) => ({
    what: `"${text(params, 'text')}" has no number where one is expected.`,
    why: 'A figure begins with digits.',
    next: `Type digits, then the unit: 12'-6", 150 in, 3.81 m, 0.4 gph, 45 psi.`,
  }),
  'units.unknown-unit': (params) => ({
    what: `"${text(params, 'word')}" is not a unit of this measure.`,
    why: 'Without a known unit the figure could mean anything.',
    next: `Use one of: ${text(params, 'accepted')}.`,
  }),
  'units.left-over': (params) => ({
    what: `"${text(params, 'text')}" goes on after the figure ends.`,
    why: 'What is left over would be lost without a word.',
    next: 'Take out what does not belong to the figure.',
  }),
  'units.inches-over-a-foot': () => ({
    what: 'The inches come to a foot or more.',
    why: 'After feet, inches run from 0 to just under 12; more is usually a slip of the hand.',
    next: `Write the foot into the feet (13'-2"), or give the whole length in inches (158 in).`,
  }),
  'units.zero-denominator': () => ({
    what: 'A fraction is divided by zero.',
    why: 'Such a fraction has no value.',
    next: 'Write the fraction as 1/2, 1/4, 3/8 and so on.',
  }),
  'units.ambiguous-comma': (params) => ({
    what: `The comma in "${text(params, 'text')}" can be read two ways.`,
    why: 'Before three digits it may mark thousands or a decimal; one is a thousand times the other.',
    next: 'Leave out the thousands mark, and write decimals with a point.',
  }),
  'units.too-large': () => ({
    what: 'The figure is too large to work with.',
    why: 'No site, pipe or pressure comes near it.',
    next: 'Check the number of digits.',
  }),
  'units.no-direction': () => ({
    what: 'A length stands here without a direction.',
    why: 'The next point needs both.',
    next: `Add the direction: "12'-6" at 30" turns 30 degrees anticlockwise from east, "12'-6" N 30 E" is a compass bearing.`,
  }),
  'units.bearing-over-a-quarter': () => ({
    what: 'A quadrant bearing is over 90 degrees.',
    why: 'It is counted from north or south towards east or west, never past them.',
    next: 'Write N 30 E, S 45 W and so on, with 0 to 90 degrees between the letters.',
  }),
};
