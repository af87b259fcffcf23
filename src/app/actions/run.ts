import { LOOKS } from '../look/looks';
import { freeRoute, groupBeds, joinBeds, lockRoute, ungroupBeds } from '../state/bedActs';
import { insertCornerInEdge, nextEdge } from '../state/corners';
import { type Overlays, STEPS, type Step, say, useDesk } from '../state/desk';
import { edit, redoEdit, undoEdit } from '../state/edit';
import {
  bringIn,
  bringInUnderlay,
  newPlan,
  openDemonstration,
  openPlan,
  savePlan,
  savePlanAs,
} from '../state/files';
import { closeFinding, readNextFinding } from '../state/findings';
import { exportCalculations, exportSheet, exportText, printSheet } from '../state/outputs';
import { bringInParts } from '../state/ownParts';
import { freeHeaders, keepHeaders } from '../state/pipeActs';
import { choose, chooseCorner, everyItem, removeChosen, showChosen, showWhole } from '../state/selection';
import { putAway, takeUp, tell, useTool } from '../state/tools';
import { zoomAboutMiddle } from '../state/view';
import { TOOLS, type ToolKey } from '../tools/toolTable';

const ZOOM_STEP = 1.4;

const focus = (id: string): void => document.getElementById(id)?.focus();

function toggle(overlay: keyof Overlays): void {
  const { overlays } = useDesk.getState();
  useDesk.setState({ overlays: { ...overlays, [overlay]: !overlays[overlay] } });
}

function nextLook(): void {
  const { look } = useDesk.getState();
  const next = LOOKS[(LOOKS.indexOf(look) + 1) % LOOKS.length] ?? 'system';
  useDesk.setState({ look: next });
}

function switchUnits(): void {
  const { units } = useDesk.getState().history.plan.display;
  edit({ name: 'set-display', params: { changes: { units: units === 'us' ? 'metric' : 'us' } } });
}

function chooseNone(): void {
  const { finding, corner } = useDesk.getState();
  if (finding !== null) closeFinding();
  else if (corner) chooseCorner(null);
  else choose([]);
}

export function goTo(step: Step): void {
  putAway();
  useDesk.setState({ step, finding: step === 'review' ? useDesk.getState().finding : null });
}

const DOINGS: Readonly<Record<string, () => unknown>> = {
  'plan.new': newPlan,
  'plan.open': openPlan,
  'plan.save': savePlan,
  'plan.save-as': savePlanAs,
  'plan.demonstration': openDemonstration,
  'plan.start': () => useDesk.setState({ panel: 'start' }),
  'plan.print': printSheet,
  'plan.pdf': exportSheet,
  'plan.calculations': exportCalculations,
  'plan.geojson': () => exportText('geojson'),
  'plan.dxf': () => exportText('dxf'),
  'plan.takeoff': () => exportText('takeoff.csv'),
  'plan.cuts': () => exportText('cuts.csv'),
  'plan.design-json': () => exportText('design.json'),
  'plan.import': bringIn,
  'plan.underlay': bringInUnderlay,
  'plan.parts': bringInParts,
  'edit.undo': undoEdit,
  'edit.redo': redoEdit,
  'edit.remove': removeChosen,
  'edit.choose-all': () => choose(everyItem(useDesk.getState().history.plan)),
  'edit.choose-none': chooseNone,
  'edit.insert-corner': insertCornerInEdge,
  'edit.next-edge': nextEdge,
  'edit.join': joinBeds,
  'edit.lock-route': lockRoute,
  'edit.free-route': freeRoute,
  'edit.keep-headers': keepHeaders,
  'edit.free-headers': freeHeaders,
  'edit.group-beds': groupBeds,
  'edit.ungroup-beds': ungroupBeds,
  'view.whole': showWhole,
  'view.chosen': showChosen,
  'view.nearer': () => zoomAboutMiddle(ZOOM_STEP),
  'view.further': () => zoomAboutMiddle(1 / ZOOM_STEP),
  'view.pressure': () => toggle('pressure'),
  'view.emitters': () => toggle('emitters'),
  'view.wetted': () => toggle('wetted'),
  'view.gaps': () => toggle('gaps'),
  'view.grid': () => useTool.setState(({ isGridOn }) => ({ isGridOn: !isGridOn })),
  'view.catching': () => useTool.setState(({ isCatching }) => ({ isCatching: !isCatching })),
  'view.units': switchUnits,
  'view.look': nextLook,
  'go.sketch': () => focus('sketch'),
  'go.rule': () => focus('rule-entry'),
  'go.contents': () => focus('contents'),
  'go.next-finding': () => readNextFinding(),
  'edge.straight': () => tell({ kind: 'edge', edge: 'straight' }),
  'edge.arc': () => tell({ kind: 'edge', edge: 'arc' }),
  'edge.freehand': () => tell({ kind: 'edge', edge: 'freehand' }),
  'edge.back': () => tell({ kind: 'back' }),
  'edge.close': () => tell({ kind: 'finish' }),
  'help.find': () => useDesk.setState({ panel: 'actions' }),
  'help.keys': () => useDesk.setState({ panel: 'help' }),
};

const isTool = (key: string): key is ToolKey => Object.hasOwn(TOOLS, key);

/** Tools that act on what is chosen. */
const NEEDS_CHOICE: ReadonlySet<string> = new Set(['move', 'copy', 'turn', 'mirror']);
const NEEDS_BED: ReadonlySet<string> = new Set(['hole', 'stub-up', 'split', 'loop']);

function takeUpTool(key: ToolKey): void {
  const { selection } = useDesk.getState();
  if (NEEDS_CHOICE.has(key) && selection.length === 0) {
    say('Nothing is chosen.', 'note', 'Choose something first, then take up the act again.');
    return;
  }
  if (NEEDS_BED.has(key) && !selection.some((item) => item.map === 'beds')) {
    say('No bed is chosen.', 'note', 'Choose a bed first, then take up the act again.');
    return;
  }
  useDesk.setState({ corner: null, finding: null });
  takeUp(key);
}

/** Does an action of the table. */
export function runAction(key: string): void {
  const [group, name = ''] = key.split('.', 2);
  if (group === 'tool' && isTool(name)) takeUpTool(name);
  else if (group === 'go' && STEPS.some((step) => step === name)) goTo(name as Step);
  else {
    const doing = DOINGS[key];
    if (!doing) throw new Error(`the action ${key} does nothing`);
    Promise.resolve(doing()).catch((error: unknown) => say(`That broke off: ${String(error)}`, 'stop'));
  }
}
