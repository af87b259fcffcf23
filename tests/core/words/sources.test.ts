import { expect, test } from 'vitest';
import { calculationText } from '../../../src/core/words';

test('a source says its standing once, and always where it is not published', () => {
  expect(calculationText.source({ text: 'NFPA 291', standing: 'published' })).toBe('Source: NFPA 291');
  expect(calculationText.source({ text: 'a crew of two', standing: 'from memory' })).toBe(
    'Source: a crew of two (from memory)',
  );
  expect(calculationText.source({ text: 'a crew of two, from memory', standing: 'from memory' })).toBe(
    'Source: a crew of two, from memory',
  );
});
