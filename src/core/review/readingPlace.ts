/** Where a gauge was put on, as the commissioning page names it. */
export type ReadingPlace = 'regulator-inlet' | 'regulator-outlet' | 'flush' | 'stub-up' | 'connection';

/** The place a crew's words mean; null where they name none of them. */
export function readingPlace(words: string): ReadingPlace | null {
  const named = words.toLowerCase();
  if (/inlet|into the regulator|before the regulator|after the filter/.test(named)) return 'regulator-inlet';
  if (named.includes('regulator')) return 'regulator-outlet';
  if (/far end|flush|last emitter/.test(named)) return 'flush';
  if (named.includes('stub')) return 'stub-up';
  return /connection|source/.test(named) ? 'connection' : null;
}
