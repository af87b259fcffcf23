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

  it('are none of a picture, whose bytes are soon no plain text', () => {
    expect(wordsOf('a b c d', ' \xff e f g', ' h i j')).toBe(0);
    expect(wordsOf('a b \0 c')).toBe(0);
  });
});
