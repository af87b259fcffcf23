const LITERALS = ['true', 'false', 'null'];
const NUMBER = /-?(0|[1-9]\d*)(\.\d+)?([eE][+-]?\d+)?/y;
const ESCAPE = /\\(["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const [BLANK, TAB, FEED, RETURN, QUOTE, BACKSLASH] = [32, 9, 10, 13, 34, 92];

function afterBlanks(text: string, from: number): number {
  let at = from;
  for (let code = text.charCodeAt(at); ; code = text.charCodeAt(++at)) {
    if (code !== BLANK && code !== TAB && code !== FEED && code !== RETURN) return at;
  }
}

/** Place after a match of a sticky pattern at `from`, or -1. */
function after(pattern: RegExp, text: string, from: number): number {
  pattern.lastIndex = from;
  return pattern.test(text) ? pattern.lastIndex : -1;
}

/** Place after the string that begins at `from`; or the place of its fault, counted from -1 downwards. */
function afterString(text: string, from: number): number {
  if (text.charCodeAt(from) !== QUOTE) return -1 - from;
  let at = from + 1;
  while (at < text.length) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) return at + 1;
    if (code === BACKSLASH) {
      const next = after(ESCAPE, text, at);
      // An escape that the end of the text cuts is missing its rest, not wrong.
      if (next < 0)
        return at + 6 > text.length && /^\\(u[0-9a-fA-F]{0,3})?$/.test(text.slice(at))
          ? -1 - text.length
          : -1 - at;
      at = next;
    } else if (code < BLANK) return -1 - at;
    else at += 1;
  }
  return -1 - text.length;
}

/** Place after a number or a word that begins at `from`; faults as in `afterString`. */
function afterScalar(text: string, from: number): number {
  const word = LITERALS.find((one) => text.startsWith(one, from));
  if (word !== undefined) return from + word.length;
  const number = after(NUMBER, text, from);
  if (number >= 0) return number;
  const rest = text.slice(from, from + 6);
  const isCut = from + rest.length === text.length && [...LITERALS, '-'].some((one) => one.startsWith(rest));
  return isCut ? -1 - text.length : -1 - from;
}

/**
 * Where a text stops being JSON (RFC 8259): the offset of the first character that cannot stand there, the text's length
 * where it only ends too early or not at all. Walks once and keeps only what is open, so that no text can hold it or fill the memory.
 * Engines do not agree on saying this.
 */
export function offsetOfSyntaxError(text: string): number {
  const open: ('[' | '{')[] = [];
  let wants: 'value' | 'value-or-end' | 'key' | 'key-or-end' | 'comma' = 'value';
  for (let at = afterBlanks(text, 0); at < text.length; at = afterBlanks(text, at)) {
    const letter = text[at]!;
    const isEnd = letter === (open.at(-1) === '[' ? ']' : '}') && open.length > 0;
    if (wants === 'comma') {
      if (open.length === 0) return at;
      if (!isEnd && letter !== ',') return at;
      if (isEnd) open.pop();
      else wants = open.at(-1) === '[' ? 'value' : 'key';
      at += 1;
    } else if (isEnd && (wants === 'value-or-end' || wants === 'key-or-end')) {
      open.pop();
      wants = 'comma';
      at += 1;
    } else if (wants === 'key' || wants === 'key-or-end') {
      const next = afterString(text, at);
      if (next < 0) return -1 - next;
      const colon = afterBlanks(text, next);
      if (colon < text.length && text[colon] !== ':') return colon;
      at = Math.min(text.length, colon + 1);
      wants = 'value';
    } else if (letter === '[' || letter === '{') {
      open.push(letter);
      wants = letter === '[' ? 'value-or-end' : 'key-or-end';
      at += 1;
    } else {
      const next = letter === '"' ? afterString(text, at) : afterScalar(text, at);
      if (next < 0) return -1 - next;
      wants = 'comma';
      at = next;
    }
  }
  return text.length;
}
