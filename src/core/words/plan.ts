import { figure, type Sentences, text } from './types';

const again =
  'Nothing was changed. Open the file in a text editor at that place, mend it, and open it again.';

/** Sentences of reading a plan and of changing it. */
export const planSentences: Sentences = {
  'file.too-large': (p) => ({
    what: `The file holds ${figure(p, 'characters')} characters, more than the ${figure(p, 'limit')} this program reads.`,
    why: 'A file of that size is not a plan of planting beds, and reading it could stop the machine.',
    next: 'Take out what does not belong to the site, or bring the parts in one at a time.',
  }),
  'file.too-deep': (p) => ({
    what: `The file nests brackets more than ${figure(p, 'limit')} deep.`,
    why: 'No plan and no GeoJSON does; a file like that is damaged or meant to do harm.',
    next: again,
  }),
  'file.too-many-values': (p) => ({
    what: `The file holds more than ${figure(p, 'limit')} values.`,
    why: 'No site does; building them all could fill the memory.',
    next: 'Take out what does not belong to the site, or split the file by site.',
  }),
  'file.not-json': () => ({
    what: 'The text is not JSON from this place on.',
    why: 'A plan and a GeoJSON file are both JSON; a comma, a quote or a bracket is wrong here.',
    next: again,
  }),
  'file.cut-short': () => ({
    what: 'The file ends before it is complete.',
    why: 'It was cut off while it was written or sent.',
    next: 'Take the file from its source again, or open the backup that stands beside it.',
  }),
  'file.number-too-large': () => ({
    what: 'A number here is too large for any computer to hold.',
    why: 'A place or a size has to be a finite number.',
    next: again,
  }),
  'file.forbidden-key': () => ({
    what: 'A name here is one that no plan uses and that can harm a program.',
    why: 'It reaches into the workings of the program instead of naming a value.',
    next: again,
  }),
  'plan.not-a-plan': () => ({
    what: 'The file is JSON, but not a plan.',
    why: 'A plan says "format": "rillsheet-plan"; a GeoJSON file says "type": "FeatureCollection".',
    next: 'Choose a plan or a GeoJSON file.',
  }),
  'plan.bad-version': () => ({
    what: 'The plan does not say which version of the format it is in.',
    why: 'Without it no one can tell how to read the rest.',
    next: 'Set "version" to a whole number: 1 is the first.',
  }),
  'plan.newer': (p) => ({
    what: `The plan is of version ${figure(p, 'version')}; this program reads up to ${figure(p, 'known')}.`,
    why: 'Reading it by half could lose what the newer version holds. The file was left untouched.',
    next: 'Open it with a newer version of this program.',
  }),
  'plan.bad-value': (p) => ({
    what: `A value here is not one a plan can hold: ${text(p, 'reason')}.`,
    why: 'Every value is checked before it is used, so that no figure on the sheet rests on a fault in the file.',
    next: 'Nothing was changed. Give a value of the kind the format asks for at that place.',
  }),
  'plan.id-mismatch': (p) => ({
    what: `The item kept under "${text(p, 'key')}" calls itself "${text(p, 'id')}".`,
    why: 'Every item is kept under its own id, so that findings and the sheet point to the right one.',
    next: again,
  }),
  'plan.edge-count': (p) => ({
    what: `The outline has ${figure(p, 'corners')} corners but ${figure(p, 'edges')} edges.`,
    why: 'Each corner starts one edge.',
    next: again,
  }),
  'plan.unknown-command': () => ({
    what: 'There is no such edit.',
    why: 'The name is not in the list of edits.',
    next: 'Nothing was changed.',
  }),
  'plan.bad-parameters': () => ({
    what: 'The edit was given values it cannot take.',
    why: 'A value is missing, too many, or of the wrong kind.',
    next: 'Nothing was changed.',
  }),
  'plan.no-such-item': () => ({
    what: 'What was to be changed is not on the plan.',
    why: 'It was removed, or its id is wrong.',
    next: 'Nothing was changed. Select it again.',
  }),
  'plan.no-such-corner': () => ({
    what: 'The outline has no such corner.',
    why: 'It was removed, or its number is wrong.',
    next: 'Nothing was changed.',
  }),
  'plan.too-few-corners': () => ({
    what: 'The outline has three corners; one fewer would leave no ground.',
    why: 'Ground needs at least three corners.',
    next: 'Nothing was changed. Remove the whole of it instead.',
  }),
  'plan.too-few-bends': () => ({
    what: 'The line has two ends; one fewer would leave no line.',
    why: 'A line needs two ends.',
    next: 'Nothing was changed. Remove the whole of it instead.',
  }),
  'plan.no-mirror-line': () => ({
    what: 'The line to mirror about has no length.',
    why: 'Both of its ends are the same point.',
    next: 'Nothing was changed. Pick two points apart.',
  }),
  'plan.no-such-route': () => ({
    what: 'The bed has no such piece of a route drawn by hand.',
    why: "Its route is the program's own, or the point is gone.",
    next: 'Nothing was changed. Lock the route first, then change it.',
  }),
  'plan.too-few-route-points': () => ({
    what: 'The last points of a piece of tubing cannot be taken away.',
    why: 'A row needs two points and a loop three.',
    next: 'Nothing was changed. Remove the whole piece instead.',
  }),
  'plan.bad-item': () => ({
    what: 'The item has no usable id.',
    why: 'Every item needs an id of its own.',
    next: 'Nothing was changed.',
  }),
};

/** Names of edits, for the undo list. */
export const editNames: Readonly<Record<string, string>> = {
  'put-item': 'draw',
  'change-items': 'change',
  'change-each': 'change',
  'set-bed': 'change the bed',
  'remove-items': 'remove',
  'replace-items': 'replace',
  'keep-headers': 'keep headers',
  'move-items': 'move',
  'turn-items': 'turn',
  'mirror-items': 'mirror',
  'move-corner': 'move a corner',
  'insert-corner': 'add a corner',
  'remove-corner': 'remove a corner',
  'set-edge': 'change an edge',
  'set-route': 'draw the route',
  'lock-routes': 'lock the route',
  'move-route-point': 'move a point of the route',
  'insert-route-point': 'add a point to the route',
  'remove-route-point': 'remove a point of the route',
  'set-project': 'change the project',
  'set-display': 'change the sheet',
  'set-site': 'change the site',
  'set-georeference': 'place on the earth',
  'set-setting': 'change a default',
};

/** Names of what an exchange of several things at once comes to. */
export const exchangeNames = { drawn: 'draw', joined: 'join', split: 'split' } as const;
