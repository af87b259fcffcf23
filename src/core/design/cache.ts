import type { Steps } from '../units';

/** One remembered answer: the inputs it came from, a key of their values, and the answer. */
interface Remembered {
  readonly inputs: readonly unknown[];
  readonly key: string | null;
  readonly answer: unknown;
}

/**
 * Remembers the last answer of each stage for each bed and zone. Inputs are immutable, so identity is the first key;
 * where a stage also gives a value key, equal values count as equal inputs even when they were made anew.
 */
export interface DesignCache {
  /**
   * The remembered answer of `stage` for `id` when `inputs` are identical (or `key` equal), else the answer of `compute`.
   */
  readonly recall: <T>(
    stage: string,
    id: string,
    inputs: readonly unknown[],
    compute: () => T,
    key?: () => string,
  ) => T;
  /** As `recall`, by identical inputs only, for an answer that is computed in steps. */
  readonly recallInSteps: <T>(
    stage: string,
    id: string,
    inputs: readonly unknown[],
    compute: () => Steps<T>,
  ) => Steps<T>;
  /** The remembered answer when `inputs` are identical, else null: asks without computing. */
  readonly peek: <T>(stage: string, id: string, inputs: readonly unknown[]) => T | null;
  /** True when the remembered answer of `stage` for `id` is the one for this value key. */
  readonly knows: (stage: string, id: string, key: string) => boolean;
  /** The remembered answer, whatever its inputs; null where there is none. */
  readonly last: <T>(stage: string, id: string) => T | null;
  /** How often each stage really computed, by stage; a test and the status line read it. */
  readonly counts: Readonly<Record<string, number>>;
  /** Forgets the routes of beds that are no longer there; zones and shared stages are few and stay. */
  readonly forget: (bedIdsStillThere: readonly string[]) => void;
}

const isSame = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((value, i) => Object.is(value, b[i]));

/** An empty cache. One cache serves one plan in one place (a worker, a command). */
export function createDesignCache(): DesignCache {
  const stages = new Map<string, Map<string, Remembered>>();
  const counts: Record<string, number> = {};
  const answersOf = (stage: string): Map<string, Remembered> => {
    const answers = stages.get(stage) ?? new Map<string, Remembered>();
    stages.set(stage, answers);
    return answers;
  };
  const keep = (stage: string, id: string, answered: Remembered): void => {
    counts[stage] = (counts[stage] ?? 0) + 1;
    answersOf(stage).set(id, answered);
  };
  return {
    counts,
    recall<T>(
      stage: string,
      id: string,
      inputs: readonly unknown[],
      compute: () => T,
      key?: () => string,
    ): T {
      const answers = answersOf(stage);
      const last = answers.get(id);
      if (last !== undefined && isSame(last.inputs, inputs)) return last.answer as T;
      const valueKey = key === undefined ? null : key();
      if (last !== undefined && valueKey !== null && last.key === valueKey) {
        answers.set(id, { ...last, inputs });
        return last.answer as T;
      }
      const answer = compute();
      keep(stage, id, { inputs, key: valueKey, answer });
      return answer;
    },
    *recallInSteps<T>(stage: string, id: string, inputs: readonly unknown[], compute: () => Steps<T>) {
      const last = stages.get(stage)?.get(id);
      if (last !== undefined && isSame(last.inputs, inputs)) return last.answer as T;
      const answer = yield* compute();
      keep(stage, id, { inputs, key: null, answer });
      return answer;
    },
    peek<T>(stage: string, id: string, inputs: readonly unknown[]): T | null {
      const last = stages.get(stage)?.get(id);
      return last !== undefined && isSame(last.inputs, inputs) ? (last.answer as T) : null;
    },
    knows: (stage, id, key) => stages.get(stage)?.get(id)?.key === key,
    last: <T>(stage: string, id: string) => (stages.get(stage)?.get(id)?.answer as T | undefined) ?? null,
    forget(bedIdsStillThere) {
      const there = new Set(bedIdsStillThere);
      for (const stage of ['bed preview', 'bed finished', 'choose', 'run-limit', 'route']) {
        const answers = stages.get(stage);
        for (const id of answers?.keys() ?? []) if (!there.has(id)) answers?.delete(id);
      }
    },
  };
}
