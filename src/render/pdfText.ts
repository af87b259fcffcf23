import type { jsPDF } from 'jspdf';
import { type DrawingItem, type Font, measureText } from '../core/drawing';
import type { Look } from './looks';
import { POINTS_PER_MM } from './pdfPage';

type TextItem = Extract<DrawingItem, { kind: 'text' }>;

/** The slice of the library's inner workings that quick lettering needs; held to one version by the lock file. */
interface Inner {
  readonly write: (operators: string) => void;
  readonly pages: readonly (readonly string[])[];
  readonly getCurrentPageInfo: () => { readonly pageNumber: number };
  readonly getFont: () => unknown;
  readonly getVerticalCoordinate: (mm: number) => number;
}

const START = { start: 0, middle: 0.5, end: 1 } as const;

/** Writes texts, and ends what it has begun. */
export interface TextWriter {
  readonly write: (item: TextItem) => void;
  readonly close: () => void;
}

/** A figure as the library writes it: four decimals, no zeros at the end. */
const figure = (value: number): string => value.toFixed(4).replace(/0+$/, '');

/** A baseline, its two figures and its letters, last in what the library writes of one text. */
const LAST = /\S+ \S+ Td\n<[0-9a-f]*> Tj\nET$/;

/**
 * Writes texts into a PDF. The library is told of changes of face and ink alone, because it looks a face up each time it
 * is told; and the first text of each face, size and ink is left to it. What it wrote then stands before every later one,
 * with another place and other letters: it takes most of its time to look through texts for writing from right to left
 * and for options that a drawing never sets. Texts of one face, size and ink that follow each other are written as one
 * text object, which must be closed before anything else is written.
 */
export function textWriter(doc: jsPDF, look: Look, faceFor: (font: Font) => Font): TextWriter {
  const inner = doc.internal as unknown as Inner;
  const escape16 = (doc as unknown as { pdfEscape16: (text: string, font: unknown) => string }).pdfEscape16;
  const begins = new Map<string, string>();
  const codes = new Map<Font, Map<string, string>>();
  let [face, ink] = ['', ''];

  /** The codes of the letters in the face last set, or null where the face lacks one. */
  const encoded = (text: string, font: Font): string | null => {
    const known = codes.get(font) ?? new Map<string, string>();
    codes.set(font, known);
    let all = '';
    for (let i = 0; i < text.length; i++) {
      const letter = text[i]!;
      let code = known.get(letter);
      if (code === undefined) {
        code = escape16(letter, inner.getFont());
        known.set(letter, code);
      }
      if (code === '') return null;
      all += code;
    }
    return all;
  };

  let open = '';
  const close = (): void => {
    if (open !== '') inner.write('ET');
    open = '';
  };
  const write = (item: TextItem): void => {
    if (item.text === '') return;
    const font = faceFor(item.font);
    if (font !== face) doc.setFont(font, 'normal');
    face = font;
    if (look[item.ink] !== ink) doc.setTextColor(look[item.ink]);
    ink = look[item.ink];
    const back = measureText(item.text, item.font, item.sizeMm) * START[item.anchor];
    const angle = item.angleRad ?? 0;
    const [x, y] = [item.at.x - back * Math.cos(angle), item.at.y + back * Math.sin(angle)];
    const key = `${font} ${item.sizeMm} ${ink}`;
    const begin = begins.get(key);
    const letters = angle === 0 && begin !== undefined ? encoded(item.text, font) : null;
    if (letters !== null) {
      const place = `1 0 0 1 ${figure(x * POINTS_PER_MM)} ${figure(inner.getVerticalCoordinate(y))} Tm`;
      if (open !== key) close();
      inner.write(`${open === key ? '' : begin}${place}\n<${letters}> Tj`);
      open = key;
      return;
    }
    close();
    doc.setFontSize(item.sizeMm * POINTS_PER_MM);
    doc.text(item.text, x, y, angle === 0 ? {} : { angle: (angle * 180) / Math.PI });
    const written = inner.pages[inner.getCurrentPageInfo().pageNumber]?.at(-1);
    if (angle === 0 && written !== undefined && LAST.test(written))
      begins.set(key, written.replace(LAST, ''));
  };
  return { write, close };
}
