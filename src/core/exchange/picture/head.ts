import type { Outcome, Problem } from '../../units';
import { jpegHead } from './jpeg';
import { pngHead } from './png';

/** What a picture says of itself before anything of it is decoded. */
export interface PictureHead {
  readonly kind: 'png' | 'jpeg';
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Why a picture is refused, as the last part of its code. */
export type PictureFault = 'picture-broken' | 'picture-cut';

/** Largest picture a plan may carry, bytes. */
export const MOST_PICTURE_BYTES = 20_000_000;
/** Decoded, a picture takes four bytes a pixel: this is 160 MB. */
const MOST_PIXELS = 40_000_000;
/** Longest side that every canvas can draw. */
const LONGEST_SIDE_PX = 16_384;

/** Kinds of file that people try, by how they begin. */
const OTHER_KINDS: readonly (readonly [begins: string, kind: string])[] = [
  ['%PDF-', 'PDF'],
  ['GIF8', 'GIF'],
  ['RIFF', 'WebP'],
  ['II*\0', 'TIFF'],
  ['MM\0*', 'TIFF'],
  ['BM', 'BMP'],
  ['PK\x03\x04', 'an archive'],
  ['\x1f\x8b', 'an archive'],
  ['Rar!', 'an archive'],
  ['7z\xbc\xaf', 'an archive'],
];
const MARKUP = /^(\u00ef\u00bb\u00bf)?\s*<[?!a-z]/i;

function otherKind(bytes: Uint8Array): string {
  const start = String.fromCharCode(...bytes.subarray(0, 200));
  if (MARKUP.test(start)) return 'SVG or other markup';
  return OTHER_KINDS.find(([begins]) => start.startsWith(begins))?.[1] ?? '';
}

/** The refusal of a picture, by the last part of its code. */
export function pictureProblem(fault: string, fileName: string, params: Problem['params'] = {}): Problem {
  return { code: `exchange.${fault}`, severity: 'stop', where: { file: fileName }, params };
}

/**
 * Looks at the bytes of a picture and says what they would decode to, without decoding: kind and size are checked before
 * any memory is spent on pixels, and the file is walked once to its end mark. PNG and JPEG are taken; SVG and all else are refused by name.
 *
 * Fails: `exchange.picture-too-big`, `-not-taken`, `-broken`, `-cut`, `-too-many-pixels`.
 * Source: ISO/IEC 15948 (PNG), ITU-T T.81 annex B (JPEG).
 */
export function readPictureHead(bytes: Uint8Array, fileName: string): Outcome<PictureHead> {
  const refuse = (code: string, params: Problem['params'] = {}): Outcome<never> => ({
    ok: false,
    problems: [pictureProblem(code, fileName, params)],
  });
  if (bytes.length > MOST_PICTURE_BYTES)
    return refuse('picture-too-big', { count: MOST_PICTURE_BYTES / 1e6 });
  const isPng = bytes[0] === 0x89 && bytes[1] === 0x50 && bytes[2] === 0x4e && bytes[3] === 0x47;
  const isJpeg = bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff;
  if (!isPng && !isJpeg) return refuse('picture-not-taken', { kind: otherKind(bytes) });
  const head = isPng ? pngHead(bytes) : jpegHead(bytes);
  if (typeof head === 'string') return refuse(head);
  const { widthPx, heightPx } = head;
  if (widthPx < 1 || heightPx < 1) return refuse('picture-broken');
  if (Math.max(widthPx, heightPx) > LONGEST_SIDE_PX || widthPx * heightPx > MOST_PIXELS)
    return refuse('picture-too-many-pixels', {
      widthPx,
      heightPx,
      most: MOST_PIXELS / 1e6,
      side: LONGEST_SIDE_PX,
    });
  return { ok: true, value: head, problems: [] };
}
