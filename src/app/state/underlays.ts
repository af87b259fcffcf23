import { createElement } from 'react';
import { readPictureHead } from '../../core/exchange';
import { screenToPlan } from '../../core/geometry';
import { ITEM_MAPS } from '../../core/plan';
import { sayProblem } from '../../core/words';
import type { FileKind } from '../../host/contract';
import { type PdfPageAnswer, PdfPageQuestion } from '../parts/PdfPageQuestion';
import { freeId } from '../tools/arrange';
import { during } from './busy';
import { say, useDesk } from './desk';
import { edit } from './edit';
import { host } from './host';
import { ask } from './question';
import { choose, showChosen } from './selection';
import { currentPrinter } from './units';
import { useView } from './view';

const PICTURE_KIND: FileKind = { label: 'Picture or PDF', extensions: ['png', 'jpg', 'jpeg', 'pdf'] };
/** What a plan carries of one picture, bytes. */
const MOST_BYTES = 20_000_000;
const MOST_PDF_BYTES = 100_000_000;

/** A picture ready to lie under the plan; without a scale of its own it fills the view until one is set. */
interface Picture {
  readonly blob: Blob;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly metresPerPixel: number | null;
}

function asDataUri(blob: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result));
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(blob);
  });
}

async function readPicture(
  bytes: Uint8Array,
  type: 'image/png' | 'image/jpeg',
  name: string,
): Promise<Picture | null> {
  const head = readPictureHead(bytes, name);
  if (!head.ok) {
    const said = sayProblem(head.problems[0]!, currentPrinter());
    say(said.what, 'stop', said.next);
    return null;
  }
  const blob = new Blob([bytes.slice()], { type });
  const bitmap = await createImageBitmap(blob).catch(() => null);
  if (!bitmap) {
    say('The picture is broken and cannot be shown.', 'stop', 'Save it again as PNG or JPEG.');
    return null;
  }
  const picture = { blob, widthPx: bitmap.width, heightPx: bitmap.height, metresPerPixel: null };
  bitmap.close();
  return picture;
}

async function asBlob(canvas: HTMLCanvasElement): Promise<Blob | null> {
  const as = (type: string): Promise<Blob | null> =>
    new Promise((resolve) => canvas.toBlob(resolve, type, 0.85));
  const png = await as('image/png');
  return png && png.size < MOST_BYTES / 2 ? png : as('image/jpeg');
}

async function readPdf(bytes: Uint8Array, name: string): Promise<Picture | null> {
  if (bytes.length > MOST_PDF_BYTES) {
    say('The PDF is too large.', 'stop', 'Save the one page by itself first.');
    return null;
  }
  const { openPdf } = await import('./pdfPages');
  const pages = await during('Reading the PDF', () => openPdf(bytes)).catch(() => null);
  if (!pages) {
    say('The PDF cannot be read.', 'stop', 'It is broken, or locked by a password: save it again without.');
    return null;
  }
  try {
    const answer = await ask<PdfPageAnswer>('Page of the PDF', (settle) =>
      createElement(PdfPageQuestion, { name, count: pages.count, onAnswer: settle }),
    );
    if (!answer) return null;
    const drawn = await during('Drawing the page', (signal) => pages.draw(answer.pageNumber, signal));
    const blob = drawn && (await asBlob(drawn.canvas));
    if (!drawn || !blob) return null;
    const { canvas, paperMetresPerPixel } = drawn;
    const metresPerPixel =
      answer.scaleDenominator === null ? null : paperMetresPerPixel * answer.scaleDenominator;
    return { blob, widthPx: canvas.width, heightPx: canvas.height, metresPerPixel };
  } catch {
    say('The page could not be drawn.', 'stop', 'It is broken or takes too long: print it to a picture.');
    return null;
  } finally {
    pages.close();
  }
}

async function lay(picture: Picture, name: string): Promise<void> {
  const { view, widthPx, heightPx } = useView.getState();
  const metresPerPixel = picture.metresPerPixel ?? (0.8 * widthPx) / view.pixelsPerM / picture.widthPx;
  const corner = screenToPlan({ x: widthPx * 0.1, y: heightPx * 0.9 }, view);
  const id = freeId(useDesk.getState().history.plan, ITEM_MAPS, 'underlay', new Set());
  const item = {
    id,
    name,
    kind: 'picture',
    dataUri: await asDataUri(picture.blob),
    lines: [],
    originX: corner.x,
    originY: corner.y,
    metresPerPixel,
    turnRad: 0,
    fadeRatio: 0.4,
    locked: true,
    widthPx: picture.widthPx,
    heightPx: picture.heightPx,
  };
  if (!edit({ name: 'put-item', params: { map: 'underlays', item } })) return;
  choose([{ map: 'underlays', id }]);
  useDesk.setState({ step: 'site' });
  showChosen();
}

/** Brings in a picture or one page of a PDF under the plan. */
export async function chooseUnderlay(): Promise<void> {
  const answer = await host.open([PICTURE_KIND]);
  if (answer.kind === 'refused') say('The picture could not be read.', 'stop', answer.detail);
  if (answer.kind !== 'done') return;
  const { bytes, name } = answer.value;
  const begins = (...marks: readonly number[]): boolean => marks.every((mark, i) => bytes[i] === mark);
  const isPdf = begins(0x25, 0x50, 0x44, 0x46);
  const type = begins(0x89, 0x50) ? 'image/png' : begins(0xff, 0xd8) ? 'image/jpeg' : null;
  if (!isPdf && !type) {
    say('This is neither a PNG nor a JPEG picture, nor a PDF.', 'stop', 'Save it as one of them first.');
    return;
  }
  const picture = isPdf ? await readPdf(bytes, name) : type ? await readPicture(bytes, type, name) : null;
  if (picture) await lay(picture, name);
}
