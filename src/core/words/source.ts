import type { Source } from '../units';

/** Standings behind which something can be looked up; `user` is the designer's own word. */
const STANDS_BY_ITSELF: ReadonlySet<Source['standing']> = new Set(['published', 'user']);

/** True where a figure rests on memory, common practice, a typical value or our own choice. */
export const isUnpublished = ({ standing }: Source): boolean => !STANDS_BY_ITSELF.has(standing);

/** Where a figure comes from, as a person reads it: its standing is said once, and always where nothing is published. */
export function saySource(source: Source): string {
  const { text, standing } = source;
  return !isUnpublished(source) || text.includes(standing) ? text : `${text} (${standing})`;
}

/** What stands after a printed figure that no published source stands behind; a line below it says what the star means. */
export const starOf = (source: Source): '' | '*' => (isUnpublished(source) ? '*' : '');
