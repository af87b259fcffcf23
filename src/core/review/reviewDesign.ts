import type { Problem } from '../units';
import type { ReviewInput, Rule } from './types';
import { worstEmitter } from './worstEmitter';

/** Every rule there is; the order does not show. */
const RULES: readonly Rule[] = [worstEmitter];

/** All findings of all rules, in the order of the rules. */
export function reviewDesign(input: ReviewInput): readonly Problem[] {
  return RULES.flatMap((rule) => rule(input));
}
