import '../strictPolicy';
import { PDF_LIMITS, pdfProblem, pictureProblem, readPictureHead } from '../../core/exchange';
import { openPages, type Pages, Refusal } from './pages';
import type { UnderlayAnswer, UnderlayOrder, UnderlayResult } from './protocol';

/** The slice of a worker's scope used here: the full worker library clashes with the window's. */
interface UnderlayScope {
  onmessage: ((event: { readonly data: UnderlayOrder }) => void) | null;
  postMessage(answer: UnderlayAnswer, transfer: Transferable[]): void;
}

/** A painted picture is held in memory as long as it is seen: 64 MB. */
const MOST_PAINTED_PIXELS = 16_000_000;

const scope = globalThis as unknown as UnderlayScope;
let pages: Pages | null = null;

/** Decodes a picture whose head says that it can be borne; `most` makes a larger one smaller while it is decoded. */
async function decode(
  bytes: Uint8Array<ArrayBuffer>,
  fileName: string,
  most: number,
): Promise<{ readonly bitmap: ImageBitmap; readonly widthPx: number; readonly heightPx: number }> {
  const head = readPictureHead(bytes, fileName);
  if (!head.ok) throw new Refusal(head.problems[0]!);
  const { widthPx, heightPx, kind } = head.value;
  const ratio = Math.min(1, Math.sqrt(most / (widthPx * heightPx)));
  const size = { resizeWidth: Math.max(1, Math.floor(widthPx * ratio)), resizeQuality: 'medium' } as const;
  const blob = new Blob([bytes], { type: `image/${kind}` });
  try {
    const bitmap = await createImageBitmap(blob, ratio < 1 ? size : {});
    return { bitmap, widthPx, heightPx };
  } catch {
    throw new Refusal(pictureProblem('picture-broken', fileName));
  }
}

/** The bytes that a data URI holds. What is no such thing gives none, and is refused as no picture. */
function bytesOf(dataUri: string): Uint8Array<ArrayBuffer> {
  const packed = /^data:image\/(?:png|jpeg);base64,([A-Za-z0-9+/=]*)$/.exec(dataUri)?.[1] ?? '';
  try {
    return Uint8Array.from(atob(packed), (character) => character.charCodeAt(0));
  } catch {
    return new Uint8Array();
  }
}

async function measure(bytes: Uint8Array<ArrayBuffer>, fileName: string): Promise<UnderlayResult<'measure'>> {
  const { bitmap, widthPx, heightPx } = await decode(bytes, fileName, Number.POSITIVE_INFINITY);
  // A photograph may be turned by its own mark: the decoded size is the one that is seen.
  const seen = { widthPx: bitmap.width || widthPx, heightPx: bitmap.height || heightPx };
  bitmap.close();
  return seen;
}

async function open(bytes: Uint8Array<ArrayBuffer>, fileName: string): Promise<UnderlayResult<'open'>> {
  const port = new Worker(new URL('./readerMain.ts', import.meta.url), {
    type: 'module',
    name: JSON.stringify(PDF_LIMITS),
  });
  pages = await openPages(bytes, fileName, port);
  return { pageCount: pages.count };
}

async function follow(order: UnderlayOrder): Promise<UnderlayResult<UnderlayOrder['kind']>> {
  switch (order.kind) {
    case 'measure':
      return measure(order.bytes, order.fileName);
    case 'decode': {
      const { bitmap } = await decode(bytesOf(order.dataUri), order.fileName, MOST_PAINTED_PIXELS);
      return { bitmap };
    }
    case 'open':
      return open(order.bytes, order.fileName);
    case 'draw':
      if (pages === null) throw new Refusal(pdfProblem('page-broken', '', order.pageNumber));
      return pages.draw(order.pageNumber);
  }
}

scope.onmessage = ({ data }) => {
  follow(data).then(
    (result) => scope.postMessage({ kind: 'done', result }, 'bitmap' in result ? [result.bitmap] : []),
    (error: unknown) =>
      scope.postMessage(
        error instanceof Refusal
          ? { kind: 'refused', problem: error.problem }
          : { kind: 'failed', claim: String(error) },
        [],
      ),
  );
};
