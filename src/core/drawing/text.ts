import { FONT_TABLES } from './fontWidths';
import type { Font } from './types';

interface Glyph {
  readonly advance: number;
  readonly low: number;
  readonly high: number;
}

interface Face {
  readonly ascent: number;
  readonly descent: number;
  readonly glyphs: ReadonlyMap<number, Glyph>;
  /** Advance by code point, for measuring; undefined where the face has no letter. */
  readonly advances: readonly (number | undefined)[];
  readonly unknownAdvance: number;
}

const faces = new Map<Font, Face>();

function face(font: Font): Face {
  const known = faces.get(font);
  if (known) return known;
  const table = FONT_TABLES[font];
  const glyphs = new Map<number, Glyph>();
  for (const run of table.packed.split(';')) {
    const [first = '', cells = ''] = run.split(':');
    let code = Number.parseInt(first, 16);
    for (const cell of cells.split(' ')) {
      const [advance = 0, low = 0, high = 0] = cell.split(',').map(Number);
      glyphs.set(code++, { advance, low, high });
    }
  }
  const advances: (number | undefined)[] = [];
  for (const [code, glyph] of glyphs) advances[code] = glyph.advance;
  const made = {
    ascent: table.ascent,
    descent: table.descent,
    glyphs,
    advances,
    unknownAdvance: glyphs.get(0x3f)?.advance ?? 500,
  };
  faces.set(font, made);
  return made;
}

const missing = '?';
const hasGlyph = (character: string): boolean =>
  face('regular').glyphs.has(character.codePointAt(0) ?? 0) &&
  face('narrow').glyphs.has(character.codePointAt(0) ?? 0);

/** One line of plain letters, single-spaced: most of a sheet, and printable as it is. */
const PLAIN = /^(?:[!-~]+(?: [!-~]+)*)?$/;

/**
 * The text as the sheet's face can print it: one line, no control characters, a letter the face lacks replaced by its
 * base letter where it has one, else a run of such letters by one "?" a letter (three at most). Never empty for a
 * text that had letters.
 */
export function printable(text: string): string {
  if (PLAIN.test(text)) return text;
  let out = '';
  let unknown = 0;
  for (const character of text.normalize('NFC').replace(/\s+/gu, ' ')) {
    if (/[\p{Cc}\p{Cf}\p{M}\p{Cs}\p{Co}]/u.test(character)) continue;
    const plain = hasGlyph(character)
      ? character
      : [...character.normalize('NFKD')].filter(hasGlyph).join('');
    if (plain !== '') {
      out += plain;
      unknown = 0;
    } else {
      if (unknown < 3) out += missing;
      unknown++;
    }
  }
  return out.trim();
}

/** Advance width of one line, mm. `sizeMm` is the em. Characters outside the face count as "?". */
export function measureText(text: string, font: Font, sizeMm: number): number {
  const { advances, unknownAdvance } = face(font);
  let units = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.codePointAt(i) ?? 0;
    if (code > 0xffff) i++;
    units += advances[code] ?? unknownAdvance;
  }
  return (units * sizeMm) / 1000;
}

/** Lowest and highest ink of one line over its baseline, mm (highest positive); 0 and 0 for blanks. */
export function inkExtent(text: string, font: Font, sizeMm: number): { lowMm: number; highMm: number } {
  const { glyphs } = face(font);
  let low = 0;
  let high = 0;
  for (const character of text) {
    const glyph = glyphs.get(character.codePointAt(0) ?? 0);
    low = Math.min(low, glyph?.low ?? 0);
    high = Math.max(high, glyph?.high ?? 0);
  }
  return { lowMm: (low * sizeMm) / 1000, highMm: (high * sizeMm) / 1000 };
}

/** The text cut to a width, its end marked by an ellipsis where something was cut. */
export function fitText(text: string, font: Font, sizeMm: number, widthMm: number): string {
  const plain = printable(text);
  if (measureText(plain, font, sizeMm) <= widthMm) return plain;
  const letters = [...plain];
  const cut = (count: number): string => `${letters.slice(0, count).join('').trimEnd()}…`;
  let [fits, over] = [0, letters.length];
  while (over - fits > 1) {
    const middle = (fits + over) >> 1;
    if (measureText(cut(middle), font, sizeMm) <= widthMm) fits = middle;
    else over = middle;
  }
  return cut(fits);
}

/** Lines no wider than `widthMm`; a word wider than the line is broken where it must be. At least one line. */
export function wrapText(text: string, font: Font, sizeMm: number, widthMm: number): readonly string[] {
  const lines: string[] = [];
  const plain = printable(text);
  if (measureText(plain, font, sizeMm) <= widthMm) return [plain];
  const spaceMm = measureText(' ', font, sizeMm);
  let line = '';
  let lineMm = 0;
  for (const word of plain.split(' ')) {
    const wordMm = measureText(word, font, sizeMm);
    const longerMm = line === '' ? wordMm : lineMm + spaceMm + wordMm;
    if (longerMm <= widthMm) {
      line = line === '' ? word : `${line} ${word}`;
      lineMm = longerMm;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const letter of word) {
      if (line !== '' && measureText(line + letter, font, sizeMm) > widthMm) {
        lines.push(line);
        line = '';
      }
      line += letter;
    }
    lineMm = measureText(line, font, sizeMm);
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  return lines;
}
