import type { Plan } from './schema';

/** A draft of the plan that a recipe may change. */
export type PlanDraft = { -readonly [K in keyof Plan]: Plan[K] };

/** What a recipe may refuse with: a permanent code and the id it is about. */
export class Refusal extends Error {
  constructor(
    readonly code: string,
    readonly itemId: string,
  ) {
    super(code);
  }
}
