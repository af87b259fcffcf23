import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { fitText, measureText, printable, wrapText } from '../../../src/core/drawing';

/** Advance of a character straight from the font's hmtx table, by a reader of its own (format 4 cmap, as in the OpenType specification). */
function advance(file: string, code: number): number {
  const bytes = readFileSync(new URL(`../../../assets/fonts/${file}.ttf`, import.meta.url));
  const at = (tag: string): number => {
    for (let i = 0; i < bytes.readUInt16BE(4); i++)
      if (bytes.toString('latin1', 12 + i * 16, 16 + i * 16) === tag) return bytes.readUInt32BE(20 + i * 16);
    throw new Error(tag);
  };
  const cmap = at('cmap');
  let glyph = 0;
  for (let i = 0; i < bytes.readUInt16BE(cmap + 2); i++) {
    const sub = cmap + bytes.readUInt32BE(cmap + 8 + i * 8);
    if (bytes.readUInt16BE(sub) !== 4) continue;
    const n = bytes.readUInt16BE(sub + 6) / 2;
    for (let s = 0; s < n; s++) {
      const [end, start] = [
        bytes.readUInt16BE(sub + 14 + 2 * s),
        bytes.readUInt16BE(sub + 16 + 2 * n + 2 * s),
      ];
      if (code < start || code > end) continue;
      const rangeAt = sub + 16 + 6 * n + 2 * s;
      const range = bytes.readUInt16BE(rangeAt);
      const delta = bytes.readInt16BE(sub + 16 + 4 * n + 2 * s);
      glyph =
        range === 0 ? (code + delta) & 0xffff : bytes.readUInt16BE(rangeAt + range + 2 * (code - start));
    }
  }
  const count = bytes.readUInt16BE(at('hhea') + 34);
  return (
    (bytes.readUInt16BE(at('hmtx') + 4 * Math.min(glyph, count - 1)) * 1000) /
    bytes.readUInt16BE(at('head') + 18)
  );
}

test('widths are those of the fonts that are embedded', () => {
  for (const letter of ['A', 'g', '7', '½', 'é', '²']) {
    const code = letter.codePointAt(0)!;
    expect(measureText(letter, 'narrow', 1000)).toBeCloseTo(advance('AsapCondensed_400Regular', code), 0);
    expect(measureText(letter, 'semibold-italic', 1000)).toBeCloseTo(
      advance('Asap_600SemiBold_Italic', code),
      0,
    );
  }
});

test('figures stand under figures: every digit of a face is as wide as the next', () => {
  for (const font of ['narrow', 'narrow-italic', 'narrow-semibold', 'regular'] as const)
    expect(new Set([...'0123456789'].map((d) => measureText(d, font, 100))).size).toBe(1);
});

test('a text too long for its place is cut with an ellipsis inside the width', () => {
  const cut = fitText('A very long name of a very small bed', 'narrow', 2.2, 20);
  expect(cut.endsWith('…')).toBe(true);
  expect(measureText(cut, 'narrow', 2.2)).toBeLessThanOrEqual(20);
});

test('wrapped lines keep to their width and lose no word', () => {
  const text = 'Flush each header until it runs clear, then close it at the flush valve.';
  const lines = wrapText(text, 'narrow', 2.2, 24);
  expect(lines.join(' ')).toBe(text);
  for (const line of lines) expect(measureText(line, 'narrow', 2.2)).toBeLessThanOrEqual(24);
});

test('what the face cannot print becomes its base letter or a question mark, three at most together', () => {
  // Full-width and circled forms have plain letters as their compatibility decomposition (Unicode).
  expect(printable('Ｂed ①')).toBe('Bed 1');
  expect(printable('庭園の花壇')).toBe('???');
  expect(printable('a\u0000b\nc\u202Ed')).toBe('ab cd');
});
