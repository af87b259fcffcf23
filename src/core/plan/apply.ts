import { applyPatches, enablePatches, type Patch, produceWithPatches } from 'immer';
import { type Outcome, type Problem, schemaReason } from '../units';
import { type Command, itemSchema, recipeOf } from './commands';
import { type PlanDraft, Refusal } from './draft';
import { ITEM_MAPS, type ItemMap, type Plan, planSchema } from './schema';

enablePatches();

/** Forward and inverse steps of one edit, as plain data fit for a journal and for a worker. */
export type PlanPatch = Patch;

export interface AppliedCommand {
  readonly plan: Plan;
  readonly command: Command;
  readonly forward: readonly PlanPatch[];
  readonly inverse: readonly PlanPatch[];
}

const refuse = (code: string, id: string, params: Problem['params'] = {}): Outcome<AppliedCommand> => ({
  ok: false,
  problems: [{ code, severity: 'stop', where: id === '' ? {} : { id }, params }],
});

/** Checks just what the patches touched: an edit of one bed never costs a check of the whole plan. */
function touchedProblems(plan: Plan, patches: readonly PlanPatch[]): Problem[] {
  const problems: Problem[] = [];
  const seen = new Set<string>();
  for (const patch of patches) {
    const [head, itemId] = patch.path;
    const key = `${String(head)}/${String(itemId)}`;
    if (seen.has(key)) continue;
    seen.add(key);
    const isItem = ITEM_MAPS.some((map) => map === head) && itemId !== undefined;
    const checked = isItem
      ? checkItem(plan, head as ItemMap, String(itemId))
      : planSchema.shape[head as keyof Plan].safeParse(plan[head as keyof Plan]);
    for (const issue of checked?.error?.issues ?? []) {
      problems.push({
        code: 'plan.bad-value',
        severity: 'stop',
        where: { id: String(itemId ?? head), path: issue.path.map(String).join('.') },
        params: { reason: schemaReason(issue) },
      });
    }
  }
  return problems;
}

function checkItem(plan: Plan, map: ItemMap, itemId: string) {
  const item: unknown = plan[map][itemId];
  return item === undefined ? null : itemSchema(map).safeParse(item);
}

/**
 * Applies one command to a plan.
 *
 * @returns the new plan with the forward and inverse patches; the same plan (`===`) when nothing changed.
 * Fails: `plan.unknown-command`, `plan.bad-parameters`, `plan.no-such-item`, `plan.bad-value` and the recipes' own refusals; the plan is untouched.
 */
export function applyCommand(plan: Plan, command: Command): Outcome<AppliedCommand> {
  try {
    const recipe = recipeOf(command);
    const [next, forward, inverse] = produceWithPatches(plan, (draft) => recipe(draft as PlanDraft));
    if (forward.length === 0)
      return { ok: true, value: { plan, command, forward: [], inverse: [] }, problems: [] };
    const problems = touchedProblems(next, forward);
    if (problems.length > 0) return { ok: false, problems };
    return { ok: true, value: { plan: next, command, forward, inverse }, problems: [] };
  } catch (error) {
    if (error instanceof Refusal) return refuse(error.code, error.itemId);
    throw error;
  }
}

/** Replays patches on a plan: undo, redo, a worker's replica, a recovered journal. */
export function applyPlanPatches(plan: Plan, patches: readonly PlanPatch[]): Plan {
  return applyPatches(plan, [...patches]);
}
