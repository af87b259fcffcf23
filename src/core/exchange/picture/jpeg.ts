import type { PictureFault, PictureHead } from './head';

/** A picture is drawn in at most this many passes; more only burn time. */
const MOST_SCANS = 100;

const isFrameMark = (mark: number): boolean =>
  mark >= 0xc0 && mark <= 0xcf && mark !== 0xc4 && mark !== 0xc8 && mark !== 0xcc;
/** Marks that stand alone, without a length. */
const isBare = (mark: number): boolean => mark === 0x01 || (mark >= 0xd0 && mark <= 0xd7);

/** First place from `at` on where a mark stands that is no stuffing and no restart, or -1. */
function nextMark(bytes: Uint8Array, at: number): number {
  for (let i = bytes.indexOf(0xff, at); i >= 0 && i + 1 < bytes.length; i = bytes.indexOf(0xff, i + 1)) {
    const mark = bytes[i + 1]!;
    if (mark !== 0x00 && mark !== 0xff && !isBare(mark)) return i;
  }
  return -1;
}

/** Size of a JPEG, its segments walked to the end mark. Source: ITU-T T.81, B.1 and B.2. */
export function jpegHead(bytes: Uint8Array): PictureHead | PictureFault {
  let head: PictureHead | null = null;
  let scans = 0;
  for (let at = 2; ; ) {
    while (bytes[at] === 0xff && bytes[at + 1] === 0xff) at += 1;
    if (at + 4 > bytes.length && !(bytes[at] === 0xff && bytes[at + 1] === 0xd9)) return 'picture-cut';
    if (bytes[at] !== 0xff) return 'picture-broken';
    const mark = bytes[at + 1]!;
    if (mark === 0xd9) return head !== null && scans > 0 ? head : 'picture-broken';
    if (mark === 0x00 || mark === 0xd8) return 'picture-broken';
    if (isBare(mark)) {
      at += 2;
      continue;
    }
    const length = bytes[at + 2]! * 256 + bytes[at + 3]!;
    if (length < 2) return 'picture-broken';
    if (at + 2 + length > bytes.length) return 'picture-cut';
    if (isFrameMark(mark)) {
      if (head !== null || length < 8) return 'picture-broken';
      head = {
        kind: 'jpeg',
        heightPx: bytes[at + 5]! * 256 + bytes[at + 6]!,
        widthPx: bytes[at + 7]! * 256 + bytes[at + 8]!,
      };
    }
    at += 2 + length;
    if (mark !== 0xda) continue;
    scans += 1;
    if (scans > MOST_SCANS || head === null) return 'picture-broken';
    at = nextMark(bytes, at);
    if (at < 0) return 'picture-cut';
  }
}
