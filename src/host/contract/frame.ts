/**
 * One message of the loopback channel: a JSON head, then raw bytes. Bytes travel as they are, not as text.
 * Layout: four bytes, the head's length (big endian); the head in UTF-8; the rest.
 */
export interface Frame {
  readonly head: unknown;
  readonly bytes: Uint8Array;
}

/** Longest head accepted, bytes: heads hold names and tokens, never files. */
const MAX_HEAD_BYTES = 4_000_000;

export function packFrame(head: unknown, bytes: Uint8Array = new Uint8Array()): Uint8Array<ArrayBuffer> {
  const text = new TextEncoder().encode(JSON.stringify(head));
  const packed = new Uint8Array(4 + text.length + bytes.length);
  new DataView(packed.buffer).setUint32(0, text.length);
  packed.set(text, 4);
  packed.set(bytes, 4 + text.length);
  return packed;
}

/** Takes a message apart. Null when it is not one. */
export function unpackFrame(packed: Uint8Array): Frame | null {
  if (packed.length < 4) return null;
  const length = new DataView(packed.buffer, packed.byteOffset, packed.byteLength).getUint32(0);
  if (length > MAX_HEAD_BYTES || 4 + length > packed.length) return null;
  try {
    return {
      head: JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(packed.subarray(4, 4 + length))),
      bytes: packed.slice(4 + length),
    };
  } catch {
    return null;
  }
}
