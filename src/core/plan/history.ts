import type { Outcome } from '../units';
import { type AppliedCommand, applyCommand, applyPlanPatches, type PlanPatch } from './apply';
import type { Command } from './commands';
import type { Plan } from './schema';

/** One named edit that can be taken back. */
export interface HistoryEntry {
  readonly command: Command;
  readonly forward: readonly PlanPatch[];
  readonly inverse: readonly PlanPatch[];
  readonly before: Plan;
  readonly after: Plan;
}

/** The plan with what led to it and what was taken back. */
export interface History {
  readonly plan: Plan;
  readonly past: readonly HistoryEntry[];
  readonly future: readonly HistoryEntry[];
}

/** Edits kept for undo. The desk promises at least a thousand. */
export const HISTORY_LIMIT = 2000;

export const startHistory = (plan: Plan): History => ({ plan, past: [], future: [] });

/** Performs a command. An edit that changes nothing leaves the history identical (`===`). */
export function perform(
  history: History,
  command: Command,
): Outcome<{ readonly history: History; readonly applied: AppliedCommand }> {
  const applied = applyCommand(history.plan, command);
  if (!applied.ok) return applied;
  if (applied.value.forward.length === 0)
    return { ok: true, value: { history, applied: applied.value }, problems: [] };
  const entry: HistoryEntry = {
    command,
    forward: applied.value.forward,
    inverse: applied.value.inverse,
    before: history.plan,
    after: applied.value.plan,
  };
  const past = [...history.past, entry].slice(-HISTORY_LIMIT);
  return {
    ok: true,
    value: { history: { plan: entry.after, past, future: [] }, applied: applied.value },
    problems: [],
  };
}

/** Takes the last edit back; the plan that was there before returns, identical. Null when there is none. */
export function undo(
  history: History,
): { readonly history: History; readonly patches: readonly PlanPatch[] } | null {
  const entry = history.past.at(-1);
  if (entry === undefined) return null;
  return {
    history: { plan: entry.before, past: history.past.slice(0, -1), future: [entry, ...history.future] },
    patches: entry.inverse,
  };
}

/** Does again what was taken back last. Null when there is nothing. */
export function redo(
  history: History,
): { readonly history: History; readonly patches: readonly PlanPatch[] } | null {
  const [entry, ...rest] = history.future;
  if (entry === undefined) return null;
  return {
    history: { plan: entry.after, past: [...history.past, entry], future: rest },
    patches: entry.forward,
  };
}

/** Rebuilds a plan from a saved one and the patches of a journal, in order. */
export function replay(plan: Plan, steps: readonly (readonly PlanPatch[])[]): Plan {
  return steps.reduce((current, patches) => applyPlanPatches(current, patches), plan);
}
