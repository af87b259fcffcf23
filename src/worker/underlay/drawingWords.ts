const isBlank = (byte: number): boolean => byte === 32 || (byte >= 9 && byte <= 13);
const isLetter = (byte: number): boolean => (byte >= 65 && byte <= 90) || (byte >= 97 && byte <= 122);
const isDigit = (byte: number): boolean => byte >= 48 && byte <= 57;
/** A drawing is written in plain letters; a picture, a letter's shape or a sound soon holds a byte that is none. */
const isPlain = (byte: number): boolean => (byte >= 32 && byte < 127) || (byte >= 9 && byte <= 13);

/**
 * Counts the steps and corners that a stream orders, from its bytes alone, while they come: each is a word that follows a blank
 * or a number. Holds only while all bytes are plain text; of anything else it counts nothing, so that a picture is never
 * taken for a drawing. A word within a text to be written counts as well.
 */
export class DrawingWords {
  #words = 0;
  #isText = true;
  #mayBegin = true;

  /** Words so far; 0 once it is seen to be no drawing. */
  take(bytes: Uint8Array): number {
    for (let at = 0; this.#isText && at < bytes.length; at++) {
      const byte = bytes[at] ?? 0;
      if (!isPlain(byte)) this.#isText = false;
      else if (isLetter(byte)) {
        if (this.#mayBegin) this.#words += 1;
        this.#mayBegin = false;
      } else this.#mayBegin = isBlank(byte) || isDigit(byte);
    }
    return this.#isText ? this.#words : 0;
  }
}
