import { create } from 'zustand';
import type { Design } from '../../core/design';
import {
  type CorneredMap,
  emptyPlan,
  type History,
  type ItemMap,
  type Plan,
  startHistory,
} from '../../core/plan';
import type { FileToken } from '../../host/contract';
import type { Look } from '../look/looks';

/** A drawn thing, by the map it lives in. */
export interface ItemRef {
  readonly map: ItemMap;
  readonly id: string;
}

/** A corner of anything drawn by corners; an edge is named by the corner it starts from. */
export interface CornerRef {
  readonly map: CorneredMap;
  readonly id: string;
  readonly ringIndex: number;
  readonly pointIndex: number;
  readonly part: 'corner' | 'edge';
}

export const STEPS = ['site', 'water', 'beds', 'tubing', 'zones', 'review', 'sheet'] as const;
export type Step = (typeof STEPS)[number];

/** What may lie over the sketch. */
export interface Overlays {
  readonly pressure: boolean;
  readonly emitters: boolean;
  readonly wetted: boolean;
  readonly gaps: boolean;
}

/** A sentence for the person at the desk, with how grave it is. */
export interface Message {
  readonly severity: 'note' | 'warn' | 'stop';
  readonly text: string;
  readonly next: string;
}

export type OpenPanel = 'none' | 'actions' | 'help' | 'start' | 'walk-through' | 'question' | 'unsaved';

export interface DeskState {
  readonly history: History;
  /** The plan as it was last saved or opened: identity tells unsaved work. */
  readonly savedPlan: Plan;
  readonly file: FileToken | null;
  readonly fileName: string;
  /** Local wall time of the last save, for the header; empty before one. */
  readonly savedAt: string;
  readonly selection: readonly ItemRef[];
  readonly corner: CornerRef | null;
  readonly step: Step;
  readonly look: Look;
  /** The plan as it would be if the gesture under way ended here. */
  readonly attempt: Plan | null;
  readonly design: Design | null;
  /** The plan that `design` answers for. */
  readonly designedPlan: Plan | null;
  /** The plan that the tubing of `design` answers for: it comes ahead of the rest. */
  readonly routedPlan: Plan | null;
  readonly isWorking: boolean;
  readonly engineFault: string;
  readonly overlays: Overlays;
  /** The finding whose slip is open, as an index into the design's findings. */
  readonly finding: number | null;
  readonly panel: OpenPanel;
  readonly message: Message | null;
  readonly isFirstVisit: boolean;
}

const blank = emptyPlan('blank');

export const useDesk = create<DeskState>(() => ({
  history: startHistory(blank),
  savedPlan: blank,
  file: null,
  fileName: '',
  savedAt: '',
  selection: [],
  corner: null,
  step: 'site',
  look: 'system',
  attempt: null,
  design: null,
  designedPlan: null,
  routedPlan: null,
  isWorking: false,
  engineFault: '',
  overlays: { pressure: true, emitters: false, wetted: false, gaps: false },
  finding: null,
  panel: 'none',
  message: null,
  isFirstVisit: false,
}));

/** The plan to be shown: with the gesture under way, if there is one. */
export const shownPlan = (state: DeskState): Plan => state.attempt ?? state.history.plan;
/** True while what is drawn of the design was made for an older plan. */
export const isStale = (state: DeskState): boolean =>
  state.design !== null && state.designedPlan !== shownPlan(state);
/** True while the tubing on the desk was laid for an older plan. */
export const isTubingStale = (state: DeskState): boolean =>
  isStale(state) && state.routedPlan !== shownPlan(state);
export const isUnsaved = (state: DeskState): boolean => state.history.plan !== state.savedPlan;

/** Shows a sentence in the header until the next one. */
export function say(text: string, severity: Message['severity'] = 'note', next = ''): void {
  useDesk.setState({ message: { severity, text, next } });
}
