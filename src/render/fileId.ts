/** The id a file is written with before its bytes are known. */
export const UNSTAMPED = '0'.repeat(32);

/** 128 bits of FNV-1a, each of four lanes taking every fourth byte. */
function idOf(bytes: Uint8Array): string {
  let [a, b, c, d] = [0x811c9dc5, 0x01000193, 0x9e3779b9, 0x85ebca6b];
  for (let i = 0; i < bytes.length; i += 4) {
    a = Math.imul(a ^ bytes[i]!, 0x01000193);
    b = Math.imul(b ^ (bytes[i + 1] ?? 0), 0x01000193);
    c = Math.imul(c ^ (bytes[i + 2] ?? 0), 0x01000193);
    d = Math.imul(d ^ (bytes[i + 3] ?? 0), 0x01000193);
  }
  return [a, b, c, d]
    .map((lane) => (lane >>> 0).toString(16).padStart(8, '0'))
    .join('')
    .toUpperCase();
}

/**
 * Sets the two ids of the trailer from the file's own bytes (ISO 32000-1, 14.4), in place: the same file has the same
 * id, and another file another. Throws where the trailer does not hold the id the file was written with.
 */
export function stampFileId(bytes: Uint8Array): Uint8Array {
  const id = idOf(bytes);
  const trailer = String.fromCharCode(...bytes.subarray(-600));
  const at = trailer.lastIndexOf(`<${UNSTAMPED}> <${UNSTAMPED}>`);
  if (at < 0) throw new Error('a PDF without an id in its trailer');
  const first = bytes.length - trailer.length + at + 1;
  for (let i = 0; i < id.length; i++) {
    bytes[first + i] = id.charCodeAt(i);
    bytes[first + id.length + 3 + i] = id.charCodeAt(i);
  }
  return bytes;
}
