import { expect, test } from 'vitest';
import { calculationText } from '../../../src/core/words';

test('a source says its standing once, and always where it is not published', () => {
  expect(calculationText.source('NFPA 291', 'published')).toBe('Source: NFPA 291');
  expect(calculationText.source('a crew of two', 'from memory')).toBe('Source: a crew of two (from memory)');
  expect(calculationText.source('a crew of two, from memory', 'from memory')).toBe(
    'Source: a crew of two, from memory',
  );
});
