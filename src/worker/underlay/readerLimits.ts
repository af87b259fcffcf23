import type { PDF_LIMITS } from '../../core/exchange';
import { DrawingWords } from './drawingWords';

/** What the reader of a PDF says, outside the library's own talk, when a limit is passed. */
export interface LimitPassed {
  readonly rillsheetLimit: 'too-much-memory' | 'picture-too-large' | 'too-many-operators';
}

/** What the reader is told, outside the library's own talk: whether a page's operators are only counted, or sent to be drawn. Either way they are counted anew. */
export interface PageBegins {
  readonly rillsheetPage: 'counted' | 'drawn';
}

/** A part of a page's operators on its way to be drawn. */
interface OperatorChunk {
  readonly fnArray: readonly number[];
  readonly argsArray: readonly unknown[];
}

/** The slice of the reader's scope used here. */
interface ReaderScope {
  readonly name: string;
  postMessage(message: unknown, transfer?: unknown): void;
  addEventListener(
    type: 'message',
    listen: (event: { readonly data: Partial<PageBegins> | null }) => void,
  ): void;
  DecompressionStream: unknown;
}

/** Pieces smaller than this are not counted: they come and go. */
const COUNTED_BYTES = 1_000_000;
/** What is unpacked at a time: it can grow a thousandfold before it is counted. */
const SLICE_BYTES = 4096;
const BYTES_PER_PIXEL = 4;
/** How the library says that it left a picture out. */
const PICTURE_LEFT_OUT = 'Image exceeded maximum allowed size';

const scope = globalThis as unknown as ReaderScope;
// Given by name, so that nothing of the program has to be loaded here.
const limits = JSON.parse(scope.name) as typeof PDF_LIMITS;
const send = scope.postMessage.bind(scope);
const pass = (limit: LimitPassed['rillsheetLimit']): void =>
  send({ rillsheetLimit: limit } satisfies LimitPassed);

function refuseMemory(): never {
  pass('too-much-memory');
  throw new RangeError('more memory than a page may take');
}

function refuseOperators(): never {
  pass('too-many-operators');
  throw new RangeError('more operators than a page may have');
}

let pageWords = 0;
/** Gives a page up by the words of its drawings, before one of them is read: every step and every corner is a word. */
function countWords(more: number): void {
  pageWords += more;
  if (pageWords > limits.operators + limits.pathPoints) refuseOperators();
}

let totalBytes = 0;
/** Counts a piece of memory before it is taken. Throws where it is too large: the library then gives the stream up. */
function count(bytes: number): void {
  if (bytes < COUNTED_BYTES) return;
  totalBytes += bytes;
  if (bytes > limits.pieceBytes || totalBytes > limits.totalBytes) refuseMemory();
  // A stream that unpacks takes twice the room each time it is full, from a power of two on.
  const isGrowing = Math.log2(bytes) % 1 === 0;
  if (isGrowing && bytes >= 2 * limits.streamBytes) refuseMemory();
}

let piecesSinceSent = 0;
/** Counts a piece of any size: a pattern that is drawn with itself takes small ones for ever, and sends nothing. */
function countPiece(): void {
  piecesSinceSent += 1;
  if (piecesSinceSent > limits.unsentPieces) refuseOperators();
}

/** Where a stream that unpacks grew last, by size, and its words counted so far. A place is full when the stream asks for twice as much. */
const grown = new Map<number, { readonly place: WeakRef<Uint8Array>; readonly words: number }>();
function watchGrowth(made: object): void {
  if (!(made instanceof Uint8Array) || made.byteLength < COUNTED_BYTES) return;
  const before = grown.get(made.byteLength / 2);
  const full = before?.place.deref();
  const words = full === undefined ? 0 : new DrawingWords().take(full);
  if (before !== undefined) countWords(words - before.words);
  grown.set(made.byteLength, { place: new WeakRef(made), words });
}

/** The array type, its new pieces counted. Arrays made of one that is there already take no memory of their own. */
function counted<T extends typeof Uint8Array>(type: T): T {
  const made: T = new Proxy(type, {
    construct(target, args: unknown[], newTarget): object {
      countPiece();
      if (typeof args[0] === 'number') count(args[0] * target.BYTES_PER_ELEMENT);
      const piece = Reflect.construct(target, args, newTarget === made ? target : newTarget) as object;
      if (typeof args[0] === 'number') watchGrowth(piece);
      return piece;
    },
  });
  return made;
}

// The library packs and unpacks by these; which of them a stream grows in depends on its filters.
for (const type of [
  Uint8Array,
  Uint8ClampedArray,
  Uint16Array,
  Int16Array,
  Uint32Array,
  Int32Array,
  Float32Array,
  Float64Array,
])
  Object.assign(scope, { [type.name]: counted(type as unknown as typeof Uint8Array) });

const Canvas = OffscreenCanvas;
Object.assign(scope, {
  OffscreenCanvas: class extends Canvas {
    constructor(width: number, height: number) {
      count(width * height * BYTES_PER_PIXEL);
      super(width, height);
    }
  },
});

/** Cuts what is given into slices, so that what comes out of each can be counted before the next goes in. */
const slicing = (): TransformStream<Uint8Array, Uint8Array> =>
  new TransformStream({
    transform(chunk, control) {
      for (let at = 0; at < chunk.byteLength; at += SLICE_BYTES)
        control.enqueue(chunk.subarray(at, at + SLICE_BYTES));
    },
  });

let unpackingBytes = 0;
function counting(): TransformStream<Uint8Array, Uint8Array> {
  let bytes = 0;
  let words = 0;
  const drawing = new DrawingWords();
  return new TransformStream({
    transform(chunk, control) {
      const before = words;
      words = drawing.take(chunk);
      countWords(words - before);
      bytes += chunk.byteLength;
      unpackingBytes += chunk.byteLength;
      if (bytes > limits.streamBytes || unpackingBytes > limits.unpackingBytes) refuseMemory();
      control.enqueue(chunk);
    },
    flush() {
      unpackingBytes -= bytes;
    },
  });
}

const Unpacking = DecompressionStream;
/** The browser's own unpacking, which gives all that one piece holds before it can be stopped: a megabyte can hold a gigabyte. */
scope.DecompressionStream = class {
  readonly readable: ReadableStream<Uint8Array>;
  readonly writable: WritableStream<Uint8Array>;

  constructor(format: CompressionFormat) {
    const slices = slicing();
    this.writable = slices.writable;
    this.readable = slices.readable
      .pipeThrough(new Unpacking(format) as ReadableWritablePair<Uint8Array, Uint8Array>)
      .pipeThrough(counting());
  }
};

/** Corners of the paths in a part: the library hands each path over as one list, about three numbers a corner. */
function pathPoints({ argsArray }: OperatorChunk): number {
  let points = 0;
  for (const args of argsArray) {
    const [, parts] = (args ?? []) as readonly unknown[];
    const [path] = (Array.isArray(parts) ? parts : []) as readonly unknown[];
    if (path instanceof Float32Array) points += path.length / 3;
  }
  return points;
}

/** The library's numbers of the operators that count for more than one step. */
const SAVE = 10;
const RESTORE = 11;
const FORM_BEGINS = 74;

let operators = 0;
let points = 0;
let savedPens = 0;
let isOnlyCounted = false;
scope.addEventListener('message', ({ data }) => {
  if (!data?.rillsheetPage) return;
  isOnlyCounted = data.rillsheetPage === 'counted';
  operators = 0;
  points = 0;
  savedPens = 0;
  pageWords = 0;
  totalBytes = 0;
  unpackingBytes = 0;
});

/** Counts a part. Throws where the page has become more than can be drawn. */
function countChunk(chunk: OperatorChunk): void {
  for (const operator of chunk.fnArray) {
    operators += operator === FORM_BEGINS ? limits.operatorsPerForm : 1;
    if (operator === SAVE) savedPens += 1;
    // One too many gives back nothing.
    else if (operator === RESTORE && savedPens > 0) savedPens -= 1;
    if (savedPens > limits.savedPens) refuseOperators();
  }
  points += pathPoints(chunk);
  if (operators > limits.operators || points > limits.pathPoints) refuseOperators();
}

const isChunk = (value: unknown): value is OperatorChunk =>
  typeof value === 'object' && value !== null && 'fnArray' in value && 'argsArray' in value;

scope.postMessage = (message: unknown, transfer?: unknown) => {
  piecesSinceSent = 0;
  const chunk = (message as { chunk?: unknown } | null)?.chunk;
  if (!isChunk(chunk)) {
    send(message, transfer);
    return;
  }
  countChunk(chunk);
  if (isOnlyCounted)
    send({ ...(message as object), chunk: { ...chunk, fnArray: [], argsArray: [], length: 0 } });
  else send(message, transfer);
};

// The library tells of a picture it leaves out in no other way; a page without its picture would pass for the whole page.
console.warn = (text: unknown) => {
  if (String(text).includes(PICTURE_LEFT_OUT)) pass('picture-too-large');
};
