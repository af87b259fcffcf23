import { createElement } from 'react';
import { screenToPlan } from '../../core/geometry';
import { ITEM_MAPS } from '../../core/plan';
import { sayProblem } from '../../core/words';
import type { FileKind } from '../../host/contract';
import type { UnderlayAnswer, UnderlayOrder, UnderlayResult } from '../../worker';
import { type PdfPageAnswer, PdfPageQuestion } from '../parts/PdfPageQuestion';
import { freeId } from '../tools/arrange';
import { during } from './busy';
import { say, useDesk } from './desk';
import { edit } from './edit';
import { host } from './host';
import { ask } from './question';
import { choose, showChosen } from './selection';
import { startUnderlayWorker, type UnderlayWorker } from './underlayWorker';
import { currentPrinter } from './units';
import { useView } from './view';

const PICTURE_KIND: FileKind = { label: 'Picture or PDF', extensions: ['png', 'jpg', 'jpeg', 'pdf'] };

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

/** What an order came to; null where it was stopped or is refused, which is said. Throws the broken claim of a bug. */
function resultOf<K extends UnderlayOrder['kind']>(
  answer: UnderlayAnswer<K> | null,
): UnderlayResult<K> | null {
  if (answer === null) return null;
  if (answer.kind === 'failed') throw new Error(answer.claim);
  if (answer.kind === 'done') return answer.result;
  const said = sayProblem(answer.problem, currentPrinter());
  say(`${said.what} ${said.why}`, 'stop', said.next);
  return null;
}

async function readPicture(
  bytes: Uint8Array<ArrayBuffer>,
  type: 'image/png' | 'image/jpeg',
  name: string,
  worker: UnderlayWorker,
): Promise<Picture | null> {
  const answer = await during('Reading the picture', (signal) =>
    worker.ask<'measure'>({ kind: 'measure', bytes, fileName: name }, signal),
  );
  const size = resultOf<'measure'>(answer);
  return size && { blob: new Blob([bytes], { type }), ...size, metresPerPixel: null };
}

async function readPdf(
  bytes: Uint8Array<ArrayBuffer>,
  name: string,
  worker: UnderlayWorker,
): Promise<Picture | null> {
  const opened = await during('Reading the PDF', (signal) =>
    worker.ask<'open'>({ kind: 'open', bytes, fileName: name }, signal),
  );
  const pages = resultOf<'open'>(opened);
  if (!pages) return null;
  const chosen = await ask<PdfPageAnswer>('Page of the PDF', (settle) =>
    createElement(PdfPageQuestion, { name, count: pages.pageCount, onAnswer: settle }),
  );
  if (!chosen) return null;
  const { pageNumber, scaleDenominator } = chosen;
  const drawn = await during('Drawing the page', (signal) =>
    worker.ask<'draw'>({ kind: 'draw', pageNumber }, signal),
  );
  const page = resultOf<'draw'>(drawn);
  if (!page) return null;
  const { paperMetresPerPixel, ...picture } = page;
  return {
    ...picture,
    metresPerPixel: scaleDenominator === null ? null : paperMetresPerPixel * scaleDenominator,
  };
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
  const worker = startUnderlayWorker(name);
  const own = bytes.slice();
  try {
    const picture = type ? await readPicture(own, type, name, worker) : await readPdf(own, name, worker);
    if (picture) await lay(picture, name);
  } catch {
    say('The file could not be read.', 'stop', 'It is broken: print it to a picture first.');
  } finally {
    worker.close();
  }
}
