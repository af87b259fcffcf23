import { STEPS } from '../state/desk';
import { STEP_NAMES } from '../wording';

/** One thing a person can do. Menus, keys, the searchable list and the help page all come from this one table. */
export interface Action {
  readonly key: string;
  readonly name: string;
  /** A shorter word for the head of a page. */
  readonly word?: string;
  /** Group it stands in, and the shell's menu of that name. */
  readonly group: 'Plan' | 'Edit' | 'View' | 'Go' | 'Draw' | 'Arrange' | 'Help';
  /** Default keys: "Mod+S" (Mod: Ctrl, on a Mac Command); empty: none. */
  readonly keys: string;
  /** Why these keys. */
  readonly origin: string;
}

const SYSTEM = 'the operating system';
const action = (
  key: string,
  name: string,
  group: Action['group'],
  keys = '',
  origin = '',
  word?: string,
): Action => ({ key, name, group, keys, origin, ...(word === undefined ? {} : { word }) });
const tool = (key: string, name: string, word: string, group: Action['group'] = 'Draw'): Action =>
  action(`tool.${key}`, name, group, '', '', word);

export const ACTIONS: readonly Action[] = [
  action(
    'plan.new',
    'New plan',
    'Plan',
    'Mod+Alt+N',
    `${SYSTEM} has it without Alt; a browser keeps that for its windows`,
  ),
  action('plan.open', 'Open a plan', 'Plan', 'Mod+O', SYSTEM),
  action('plan.save', 'Save', 'Plan', 'Mod+S', SYSTEM),
  action('plan.save-as', 'Save as', 'Plan', 'Mod+Shift+S', SYSTEM),
  action('plan.demonstration', 'Open the demonstration', 'Plan'),
  action('plan.start', 'Start page', 'Plan'),
  action('plan.print', 'Print the sheet', 'Plan', 'Mod+P', SYSTEM),
  action('plan.pdf', 'Sheet as PDF', 'Plan'),
  action('plan.calculations', 'Calculations as PDF', 'Plan', '', '', 'Calculations'),
  action('plan.geojson', 'Plan as GeoJSON', 'Plan', '', '', 'GeoJSON'),
  action('plan.dxf', 'Plan as DXF', 'Plan', '', '', 'DXF'),
  action('plan.takeoff', 'Takeoff as CSV', 'Plan', '', '', 'Takeoff'),
  action('plan.cuts', 'Cut list as CSV', 'Plan', '', '', 'Cut list'),
  action('plan.design-json', 'Design as JSON', 'Plan'),
  action('plan.import', 'Bring in GeoJSON, DXF or surveyed points', 'Plan'),
  action('plan.underlay', 'Bring in a picture or a PDF page', 'Plan', '', '', 'Underlay'),
  action('plan.parts', 'Bring in your own parts', 'Plan', '', '', 'Own parts'),
  action('edit.undo', 'Undo', 'Edit', 'Mod+Z', SYSTEM),
  action('edit.redo', 'Redo', 'Edit', 'Mod+Shift+Z', SYSTEM),
  action('edit.remove', 'Remove what is chosen', 'Edit', 'Delete', SYSTEM, 'Remove'),
  action('edit.choose-all', 'Choose everything', 'Edit', 'Mod+A', SYSTEM),
  action('edit.choose-none', 'Choose nothing', 'Edit', 'Escape', SYSTEM),
  action('edit.insert-corner', 'Insert a corner in the chosen edge', 'Edit', 'Insert', 'the key says so'),
  action(
    'edit.next-edge',
    'Choose the edge after the chosen corner',
    'Edit',
    'Shift+Insert',
    'beside Insert, which needs an edge',
  ),
  action('edit.join', 'Join the chosen beds', 'Edit', '', '', 'Join'),
  action('edit.lock-route', 'Lock the route of the chosen bed', 'Edit', '', '', 'Lock the route'),
  action('edit.free-route', 'Let the route be found again', 'Edit', '', '', 'Free the route'),
  action(
    'edit.keep-headers',
    'Keep the headers as found, to move their bends',
    'Edit',
    '',
    '',
    'Keep headers',
  ),
  action('edit.free-headers', 'Let the headers be found again', 'Edit', '', '', 'Free headers'),
  action('edit.group-beds', 'Run the chosen beds together', 'Edit', '', '', 'Group beds'),
  action('edit.ungroup-beds', 'Let the beds be grouped for me', 'Edit', '', '', 'Ungroup'),
  action('view.whole', 'Show the whole plan', 'View', 'Home', 'the key goes to the beginning of anything'),
  action('view.chosen', 'Show what is chosen', 'View', 'End', 'the other end of Home'),
  action('view.nearer', 'Zoom in', 'View', '+', SYSTEM),
  action('view.further', 'Zoom out', 'View', '-', SYSTEM),
  action('view.pressure', 'Pressure along the tubing', 'View'),
  action('view.emitters', 'A dot for every emitter', 'View'),
  action('view.wetted', 'Wetted ground', 'View'),
  action('view.gaps', 'Ground out of reach', 'View'),
  action('view.grid', 'Catch the grid', 'View'),
  action('view.catching', 'Catch what is drawn', 'View'),
  action('view.units', 'Feet and gallons, or metres and litres', 'View', 'Mod+U', 'U for units'),
  action('view.look', 'Light, dark or high contrast', 'View', 'Mod+L', 'L for look'),
  ...STEPS.map((step, index) =>
    action(
      `go.${step}`,
      `Go to ${STEP_NAMES[step]}`,
      'Go',
      `Alt+${index + 1}`,
      'the step’s place in the fore-edge',
    ),
  ),
  action('go.sketch', 'Go to the sketch', 'Go', 'F6', `${SYSTEM}: the next part of a window`),
  action('go.rule', 'Go to the rule', 'Go', 'F4', 'left of F6, below the sketch as the rule is'),
  action('go.contents', 'Contents of the plan', 'Go', 'F7', 'right of F6'),
  action(
    'go.next-finding',
    'Next finding',
    'Go',
    'F8',
    'right of Contents: what is on it, then what is wrong',
  ),
  tool('rectangle', 'Draw a rectangular bed', 'Rectangle'),
  tool('outline', 'Trace a bed', 'Outline'),
  tool('hole', 'Cut a hole in the chosen bed', 'Hole'),
  tool('building', 'Trace a building', 'Building'),
  tool('paving', 'Trace paving', 'Paving'),
  tool('walk', 'Draw a walk by its centreline', 'Walk'),
  tool('fence', 'Draw a fence', 'Fence'),
  tool('boulder', 'Place a boulder', 'Boulder'),
  tool('obstacle-area', 'Trace an obstacle', 'Obstacle'),
  tool('tree', 'Place a tree', 'Tree'),
  tool('plant', 'Place a plant', 'Plant'),
  tool('utility', 'Draw a known buried line', 'Buried line'),
  tool('header', 'Lead a header by hand', 'Header'),
  tool('main', 'Lead the main by hand', 'Main'),
  tool('spot', 'Place a spot height', 'Spot height'),
  tool('source', 'Place the connection', 'Connection'),
  tool('valve', 'Place a valve assembly', 'Valve assembly'),
  tool('controller', 'Place the controller', 'Controller'),
  tool('stub-up', 'Move the stub-up of the chosen bed', 'Stub-up'),
  tool('split', 'Split the chosen bed along a line', 'Split'),
  tool('measure', 'Measure lengths, angles and ground', 'Measure'),
  tool('pull', 'Pull laid tubing aside by hand', 'Pull tubing'),
  tool('loop', 'Draw the tubing of the chosen bed by hand', 'Draw tubing'),
  tool('dimension', 'Draw a dimension', 'Dimension'),
  tool('note', 'Write a note', 'Note'),
  tool('move', 'Move what is chosen', 'Move', 'Arrange'),
  tool('copy', 'Copy what is chosen', 'Copy', 'Arrange'),
  tool('turn', 'Turn what is chosen', 'Turn', 'Arrange'),
  tool('mirror', 'Mirror what is chosen', 'Mirror', 'Arrange'),
  action(
    'edge.straight',
    'Next edge straight',
    'Draw',
    'Shift+1',
    'first of the three kinds of edge',
    'Straight',
  ),
  action('edge.arc', 'Next edge an arc', 'Draw', 'Shift+2', 'second of the three', 'Arc'),
  action('edge.freehand', 'Next edge by hand', 'Draw', 'Shift+3', 'third of the three', 'By hand'),
  action('edge.back', 'Take back the last corner', 'Draw', '', 'Backspace on the sketch', 'Step back'),
  action('edge.close', 'Close the outline', 'Draw', '', 'Return on the first corner', 'Close'),
  action('help.find', 'Find an action', 'Help', 'F3', `${SYSTEM}: find`),
  action('help.keys', 'Keys and help', 'Help', 'F1', SYSTEM),
];

const byKey = new Map(ACTIONS.map((one) => [one.key, one]));

/** The action of a key. Throws on a key that is not in the table (a bug). */
export function actionByKey(key: string): Action {
  const found = byKey.get(key);
  if (!found) throw new Error(`no action is called ${key}`);
  return found;
}

/** The acts at the head of each page, in order; their numbers are their keys while no tool is out. */
export const PAGE_ACTS: Readonly<Record<(typeof STEPS)[number], readonly string[]>> = {
  site: [
    'tool.building',
    'tool.paving',
    'tool.walk',
    'tool.fence',
    'tool.tree',
    'tool.utility',
    'tool.spot',
    'plan.underlay',
    'tool.measure',
  ],
  water: ['tool.source', 'tool.valve', 'tool.controller'],
  beds: [
    'tool.rectangle',
    'tool.outline',
    'tool.hole',
    'tool.boulder',
    'tool.obstacle-area',
    'tool.plant',
    'edit.join',
    'tool.split',
    'tool.measure',
    'tool.dimension',
    'tool.note',
  ],
  tubing: ['tool.pull', 'tool.loop', 'tool.stub-up', 'edit.lock-route', 'edit.free-route', 'tool.measure'],
  zones: [
    'edit.group-beds',
    'edit.ungroup-beds',
    'tool.valve',
    'tool.header',
    'edit.keep-headers',
    'edit.free-headers',
    'tool.main',
  ],
  review: ['go.next-finding'],
  sheet: [
    'plan.print',
    'plan.pdf',
    'plan.calculations',
    'plan.takeoff',
    'plan.cuts',
    'plan.geojson',
    'plan.dxf',
  ],
};

const NAMED_KEYS: Readonly<Record<string, string>> = {
  Mod: 'Ctrl',
  Escape: 'Esc',
  '+': 'plus',
  '-': 'minus',
};

/** Keys as a person reads them: "Ctrl S". */
export const keysInWords = ({ keys }: Action): string =>
  keys === ''
    ? ''
    : keys === '+' || keys === '-'
      ? (NAMED_KEYS[keys] ?? keys)
      : keys
          .split('+')
          .map((key) => NAMED_KEYS[key] ?? key)
          .join(' ');
