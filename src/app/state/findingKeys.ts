import type { Problem } from '../../core/units';

/**
 * What tells findings apart from one design to the next: the rule, what it is about, and which of several alike. Their places in the
 * list do not: others come and go before them.
 */
export function findingKeys(findings: readonly Problem[]): string[] {
  const counts = new Map<string, number>();
  return findings.map(({ code, where }) => {
    const alike = `${code} ${where.id ?? ''}`;
    const count = counts.get(alike) ?? 0;
    counts.set(alike, count + 1);
    return `${alike} ${count}`;
  });
}

/** Where the finding that stood at `index` before stands among those found now; null where it is gone, or none stood there. */
export function sameFinding(
  index: number | null,
  before: readonly Problem[],
  now: readonly Problem[],
): number | null {
  const key = index === null ? undefined : findingKeys(before)[index];
  const place = key === undefined ? -1 : findingKeys(now).indexOf(key);
  return place < 0 ? null : place;
}
