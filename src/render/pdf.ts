import { jsPDF } from 'jspdf';
import type { DrawingItem, DrawingList, Font } from '../core/drawing';
import { stampFileId, UNSTAMPED } from './fileId';
import { FONT_FILES, type FontBytes } from './fonts';
import { LOOKS, type Look } from './looks';
import { addLayers, addPageLabels } from './pdfLayers';
import { POINTS_PER_MM, writePage } from './pdfPage';
import { textWriter } from './pdfText';

/** What may be said about the file beside its list. */
export interface PdfOptions {
  /** "D:20260514064000+00'00'" (ISO 32000-1, 7.9.4). Fixed unless given, so that the same plan gives the same bytes. */
  readonly createdOn?: string;
  readonly look?: Look;
}

const FIXED_DATE = "D:20000101000000+00'00'";

/** One letter a byte: the library takes a TrueType file so, and is spared decoding base64. */
const letters = (bytes: Uint8Array): string => {
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x8000) {
    text += String.fromCharCode.apply(null, bytes.subarray(i, i + 0x8000) as unknown as number[]);
  }
  return text;
};
const encoded = new WeakMap<Uint8Array, string>();

function usedFonts(items: readonly DrawingItem[], found = new Set<Font>()): Set<Font> {
  for (const item of items) {
    if (item.kind === 'text') found.add(item.font);
    if (item.kind === 'clip') usedFonts(item.items, found);
  }
  return found;
}

/** Fonts are embedded as subsets of what is used; each face is its own family so that no style is synthesised. */
function addFonts(doc: jsPDF, list: DrawingList, fonts: FontBytes): (font: Font) => Font {
  const have = new Set<Font>();
  for (const font of usedFonts(list.pages.flatMap((page) => page.items))) {
    const bytes = fonts[font];
    if (!bytes) continue;
    const text = encoded.get(bytes) ?? letters(bytes);
    encoded.set(bytes, text);
    doc.addFileToVFS(FONT_FILES[font], text);
    doc.addFont(FONT_FILES[font], font, 'normal');
    have.add(font);
  }
  return (font) => {
    if (have.has(font)) return font;
    const [first] = have;
    if (!first) throw new Error('renderPdf was given none of the fonts the list uses');
    return have.has('regular') ? 'regular' : first;
  };
}

function writeImage(doc: jsPDF, item: Extract<DrawingItem, { kind: 'image' }>, pageHeightMm: number): void {
  const k = POINTS_PER_MM;
  const [c, s] = [Math.cos(item.angleRad), Math.sin(item.angleRad)];
  const [x, y] = [item.at.x * k, (pageHeightMm - item.at.y) * k];
  doc.saveGraphicsState();
  doc.setGState(doc.GState({ opacity: item.opacityRatio }));
  const turn = [c, s, -s, c, x, y].map((n) => n.toFixed(5)).join(' ');
  (doc.internal as unknown as { write: (text: string) => void }).write(`${turn} cm`);
  doc.addImage(item.dataUri, 0, pageHeightMm, item.widthMm, item.heightMm, undefined, 'FAST');
  doc.restoreGraphicsState();
}

/**
 * The whole list as one PDF: exact size, layers, bookmarks, page labels, subset fonts. The same list, fonts and
 * options give the same bytes. Throws if the list holds a number that is not finite or none of the fonts is given.
 */
export function renderPdf(list: DrawingList, fonts: FontBytes, options: PdfOptions = {}): Uint8Array {
  const look = options.look ?? LOOKS.print;
  const format = (page: { widthMm: number; heightMm: number }) => [page.widthMm, page.heightMm];
  const orient = (page: { widthMm: number; heightMm: number }) =>
    page.widthMm > page.heightMm ? ('landscape' as const) : ('portrait' as const);
  const first = list.pages[0];
  if (!first) throw new Error('a drawing list without pages');
  const doc = new jsPDF({
    unit: 'mm',
    format: format(first),
    orientation: orient(first),
    compress: true,
    putOnlyUsedFonts: true,
    floatPrecision: 4,
  });
  (doc as unknown as { __private__: { setPdfVersion: (v: string) => void } }).__private__.setPdfVersion(
    '1.6',
  );
  doc.setFileId(UNSTAMPED);
  doc.setCreationDate(options.createdOn ?? FIXED_DATE);
  doc.setDocumentProperties({
    title: list.title,
    author: list.author,
    subject: list.subject,
    keywords: list.keywords.join(', '),
    creator: 'Rillsheet',
  });
  doc.viewerPreferences({ PrintScaling: 'None', DisplayDocTitle: true });
  doc.setDisplayMode('fullpage', 'single', 'UseOutlines');
  const faceFor = addFonts(doc, list, fonts);
  const texts = textWriter(doc, look, faceFor);
  const { write } = doc.internal as unknown as { write: (text: string) => void };
  const layerName = addLayers(doc, list);
  addPageLabels(doc, list);
  list.pages.forEach((page, i) => {
    if (i > 0) doc.addPage(format(page), orient(page));
    doc.outline.add(null, `${page.label}  ${page.title}`, { pageNumber: i + 1 });
    writePage(page, look, {
      write: (operators) => {
        texts.close();
        write(operators);
      },
      text: texts.write,
      image: (item) => {
        texts.close();
        writeImage(doc, item, page.heightMm);
      },
      layerName,
    });
    texts.close();
  });
  return stampFileId(new Uint8Array(doc.output('arraybuffer')));
}
