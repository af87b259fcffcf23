import { describe, expect, it } from 'vitest';
import { DrawingWords } from '../../src/worker/underlay/drawingWords';

const bytes = (text: string): Uint8Array => Buffer.from(text, 'latin1');
const wordsOf = (...parts: string[]): number => {
  const drawing = new DrawingWords();
  return parts.reduce((_, part) => drawing.take(bytes(part)), 0);
};

describe('the words of a drawing in a PDF', () => {
  it('are its steps and corners, however they are parted', () => {
    // counted by hand: q, w, m, l, l, S, Q
    expect(wordsOf('q 2 w\n0 0 m\t9 9 l\r\n9 0l S Q\n')).toBe(7);
    expect(wordsOf('0 0 m 9 9 l f*\n')).toBe(3);
  });

  it('are the same in one piece or cut in the middle of a word', () => {
    expect(wordsOf('0 0 m 9 9 l S 200 0 0 100 0 0 cm')).toBe(4);
    expect(wordsOf('0 0 ', 'm 9 9 l', ' S 200 0 0 100 0 0 c', 'm')).toBe(4);
  });

  it('leave out names, which are no steps', () => {
    expect(wordsOf('/F1 12 Tf /P1 Do')).toBe(2);
  });

  it('weigh numbers and letters without end as steps, two bytes for one past the first hundred', () => {
    const letters = wordsOf(`BT /L 12 Tf (${'a'.repeat(10_000)})`);
    // computed by hand: BT and Tf; behind its T come f, a blank, a bracket, the letters and a bracket, 10 004 bytes
    expect(letters).toBe(2 + Math.floor((10_004 - 100) / 2));
    // no word at all: every byte but the first hundred
    expect(wordsOf(`[${'1 '.repeat(1000)}`)).toBe(Math.floor((2001 - 100) / 2));
  });

  it('weigh little of a long but honest line of text', () => {
    expect(wordsOf(`(${'x'.repeat(90)}) Tj`)).toBe(1);
  });

  it('are none of a picture of one tone, although its bytes are plain', () => {
    expect(wordsOf('U'.repeat(100_000))).toBe(1);
    expect(wordsOf(' '.repeat(100_000))).toBe(0);
  });

  it('are none of a picture, whose bytes are soon no plain text', () => {
    expect(wordsOf('a b c d', ' \xff e f g', ' h i j')).toBe(0);
    expect(wordsOf('a b \0 c')).toBe(0);
  });
});
