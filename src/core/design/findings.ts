import type { Problem, Severity } from '../units';

const RANK: Readonly<Record<Severity, number>> = { stop: 0, warn: 1, note: 2 };
const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Worst first, then by code, then by place, so that the same design always lists the same. Equal problems stand once. */
export function sortFindings(problems: readonly Problem[]): Problem[] {
  const seen = new Map<string, Problem>();
  for (const problem of problems) {
    const key = JSON.stringify([problem.code, problem.where, problem.params]);
    if (!seen.has(key)) seen.set(key, problem);
  }
  return [...seen.entries()]
    .sort(
      ([keyA, a], [keyB, b]) =>
        RANK[a.severity] - RANK[b.severity] ||
        compare(a.code, b.code) ||
        compare(a.where.id ?? '', b.where.id ?? '') ||
        compare(keyA, keyB),
    )
    .map(([, problem]) => problem);
}
