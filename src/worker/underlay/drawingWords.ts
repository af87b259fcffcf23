const isBlank = (byte: number): boolean => byte === 32 || (byte >= 9 && byte <= 13);
const isLetter = (byte: number): boolean => (byte >= 65 && byte <= 90) || (byte >= 97 && byte <= 122);
const isDigit = (byte: number): boolean => byte >= 48 && byte <= 57;
/** A drawing is written in plain letters; a picture, a letter's shape or a sound soon holds a byte that is none. */
const isPlain = (byte: number): boolean => (byte >= 32 && byte < 127) || (byte >= 9 && byte <= 13);

/** The numbers of one step or a short line of text, bytes: what is longer is itself much to hold. */
const SHORT_BYTES = 100;
/** Of what is longer, so many bytes weigh as much as a step: a number of one digit, a letter and what is kept of it. */
const BYTES_PER_WORD = 2;

/**
 * Weighs what a stream orders to be drawn, in steps, from its bytes alone while they come. Each step and each corner is a word
 * that follows a blank or a number; numbers and letters without end between two words weigh as well. Holds only while all bytes are
 * plain text; anything else weighs nothing, so that a picture is never taken for a drawing, nor is one of a single tone.
 */
export class DrawingWords {
  #words = 0;
  #parts = 0;
  #bytesSinceWord = 0;
  #spareBytes = 0;
  #isText = true;
  #isAfterBlank = true;
  #mayBegin = true;

  /** Steps so far; 0 once it is seen to be no drawing. */
  take(bytes: Uint8Array): number {
    for (let at = 0; this.#isText && at < bytes.length; at++) this.#weigh(bytes[at] ?? 0);
    return this.#isText ? this.#words + Math.floor(this.#spareBytes / BYTES_PER_WORD) : 0;
  }

  #weigh(byte: number): void {
    if (!isPlain(byte)) {
      this.#isText = false;
      return;
    }
    const blank = isBlank(byte);
    if (this.#isAfterBlank && !blank) this.#parts += 1;
    this.#isAfterBlank = blank;
    if (this.#mayBegin && isLetter(byte)) {
      this.#words += 1;
      this.#bytesSinceWord = 0;
    } else this.#bytesSinceWord += 1;
    if (this.#bytesSinceWord > SHORT_BYTES && this.#parts > 1) this.#spareBytes += 1;
    this.#mayBegin = blank || isDigit(byte);
  }
}
