/** What a text of brackets may hold before anything is built from it. */
export interface NestingLimits {
  readonly maxDepth: number;
  /** Commas and colons outside of strings, about the number of values and names. */
  readonly maxValues: number;
}

/**
 * The first place where a JSON text nests deeper or holds more than allowed; null where it keeps to both.
 * Walks the text once and never recurses; says nothing of whether the text is JSON at all.
 */
export function firstExcess(
  text: string,
  { maxDepth, maxValues }: NestingLimits,
): { readonly kind: 'deep' | 'many'; readonly offset: number } | null {
  let depth = 0;
  let values = 0;
  let isInString = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (isInString) {
      if (code === 92) at += 1;
      else if (code === 34) isInString = false;
    } else if (code === 34) isInString = true;
    else if (code === 91 || code === 123) {
      depth += 1;
      if (depth > maxDepth) return { kind: 'deep', offset: at };
    } else if (code === 93 || code === 125) depth -= 1;
    else if (code === 44 || code === 58) {
      values += 1;
      if (values > maxValues) return { kind: 'many', offset: at };
    }
  }
  return null;
}
