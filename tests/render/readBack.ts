import { readFileSync } from 'node:fs';
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Font } from '../../src/core/drawing';
import { FONT_FILES, type FontBytes } from '../../src/render';

/** The faces as the command line reads them. */
export const fonts: FontBytes = Object.fromEntries(
  (Object.keys(FONT_FILES) as Font[]).map((font) => [
    font,
    new Uint8Array(readFileSync(new URL(`../../assets/fonts/${FONT_FILES[font]}`, import.meta.url))),
  ]),
);

/** Opens a PDF with a second library. The bytes are copied: the reader takes its own away. */
export const openPdf = (bytes: Uint8Array) =>
  getDocument({ data: bytes.slice(), verbosity: 0, useSystemFonts: false }).promise;

/** The box of every path of a page, in points, as the second library parses it. */
export async function pathBoxes(bytes: Uint8Array, page: number): Promise<number[][]> {
  const doc = await openPdf(bytes);
  const list = await (await doc.getPage(page)).getOperatorList();
  const boxes: number[][] = [];
  list.fnArray.forEach((fn: number, i: number) => {
    const args = list.argsArray[i] as unknown[] | null;
    if (fn === OPS.constructPath && args?.[2]) boxes.push([...(args[2] as Iterable<number>)]);
  });
  return boxes;
}
