import { constants, deflateRawSync, deflateSync } from 'node:zlib';

/** Text of one character a byte, as it stands in a PDF file. */
const latin = (bytes: Buffer): string => bytes.toString('latin1');

/** A stream object: what its dictionary says besides its length, and its bytes as they lie in the file. */
export const stream = (dictionary: string, bytes: string): string =>
  `<<${dictionary}/Length ${bytes.length}>>\nstream\n${bytes}\nendstream`;

/** A stream of this text, packed. */
export const packed = (dictionary: string, text: string): string =>
  stream(`${dictionary}/Filter/FlateDecode`, latin(deflateSync(Buffer.from(text, 'latin1'), { level: 1 })));

/** A stream of this text, packed, and packed again. */
export const packedTwice = (dictionary: string, text: string): string =>
  packed(dictionary, latin(deflateSync(Buffer.from(text, 'latin1'), { level: 1 }))).replace(
    '/Filter/FlateDecode',
    '/Filter[/FlateDecode/FlateDecode]',
  );

/** Winding lines across a page, as a survey's contours are plotted: each a path of its own. */
export function contours(count: number, corners: number): string {
  const lines: string[] = [];
  for (let n = 0; n < count; n++) {
    const y = (100 * n) / count;
    for (let c = 0; c < corners; c++) {
      const x = ((200 * c) / corners).toFixed(1);
      lines.push(`${x} ${(y + 3 * Math.sin(c / 9 + n)).toFixed(1)} ${c === 0 ? 'm' : 'l'}`);
    }
    lines.push('S');
  }
  return lines.join('\n');
}

/** The bytes of a packed stream that unpacks to about `megabytes` of one character: a thousandth of that in the file. */
export function swelling(megabytes: number, character = ' '): string {
  const piece = deflateRawSync(Buffer.alloc(8 << 20, character), {
    level: 9,
    finishFlush: constants.Z_FULL_FLUSH,
  });
  const last = deflateRawSync(Buffer.from(character));
  return `\x78\x9c${latin(piece).repeat(Math.ceil(megabytes / 8))}${latin(last)}\0\0\0\0`;
}

/** A whole PDF file of numbered objects, the first of them the catalogue; `trailer` says more of it. */
export function pdfOf(objects: readonly string[], trailer = ''): string {
  let text = '%PDF-1.7\n';
  const offsets = objects.map((object, i) => {
    const at = text.length;
    text += `${i + 1} 0 obj\n${object}\nendobj\n`;
    return at;
  });
  const rows = offsets.map((at) => `${String(at).padStart(10, '0')} 00000 n \n`).join('');
  return `${text}xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${rows}trailer\n<</Size ${objects.length + 1}/Root 1 0 R${trailer}>>\nstartxref\n${text.length}\n%%EOF\n`;
}

/** What a PDF of one page can say; the rest is plain. */
export interface OnePage {
  /** The stream object of what is drawn; else a line across the page. */
  readonly content?: string;
  /** What the page's dictionary says of resources; objects of `more` count from 5. */
  readonly resources?: string;
  readonly more?: readonly string[];
  readonly box?: string;
  /** More of the page's dictionary, and of the catalogue's. */
  readonly page?: string;
  readonly catalogue?: string;
  readonly trailer?: string;
}

/** A PDF of one page of 200 x 100 points: 1 catalogue, 2 page tree, 3 page, 4 content. */
export function onePage(given: OnePage = {}): string {
  return pdfOf(
    [
      `<</Type/Catalog/Pages 2 0 R${given.catalogue ?? ''}>>`,
      '<</Type/Pages/Kids[3 0 R]/Count 1>>',
      `<</Type/Page/Parent 2 0 R/MediaBox ${given.box ?? '[0 0 200 100]'}/Contents 4 0 R/Resources<<${given.resources ?? ''}>>${given.page ?? ''}>>`,
      given.content ?? stream('', '2 w 0 50 m 200 50 l S'),
      ...(given.more ?? []),
    ],
    given.trailer,
  );
}

/** A form that draws `inside`; `resources` are its own. */
export const form = (inside: string, resources = '', more = ''): string =>
  stream(`/Type/XObject/Subtype/Form/BBox[0 0 200 100]/Resources<<${resources}>>${more}`, inside);

/** A picture on the page, of which its dictionary says this size; one byte a pixel unless said otherwise. */
export const picture = (
  width: number,
  height: number,
  rest: string,
  bytes: string,
  colours = '/ColorSpace/DeviceGray/BitsPerComponent 8',
): string => stream(`/Type/XObject/Subtype/Image/Width ${width}/Height ${height}${colours}${rest}`, bytes);
