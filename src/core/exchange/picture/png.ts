import type { PictureFault, PictureHead } from './head';

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
/** Length, name and check sum of a chunk without its data, bytes. */
const CHUNK_FRAME = 12;

/** Size of a PNG, its chunks walked to the end mark. Source: ISO/IEC 15948, 5 and 11. */
export function pngHead(bytes: Uint8Array): PictureHead | PictureFault {
  if (!SIGNATURE.every((byte, i) => bytes[i] === byte)) return 'picture-broken';
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let head: PictureHead | null = null;
  let hasPixels = false;
  for (let at = SIGNATURE.length; ; ) {
    if (at + CHUNK_FRAME > bytes.length) return 'picture-cut';
    const length = view.getUint32(at);
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (!/^[A-Za-z]{4}$/.test(name)) return 'picture-broken';
    if (at + CHUNK_FRAME + length > bytes.length) return 'picture-cut';
    if (head === null) {
      if (name !== 'IHDR' || length !== 13) return 'picture-broken';
      head = { kind: 'png', widthPx: view.getUint32(at + 8), heightPx: view.getUint32(at + 12) };
    } else if (name === 'IHDR') return 'picture-broken';
    if (name === 'IDAT') hasPixels = true;
    if (name === 'IEND') return hasPixels ? head : 'picture-broken';
    at += CHUNK_FRAME + length;
  }
}
