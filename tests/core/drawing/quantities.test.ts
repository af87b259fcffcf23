import { expect, test } from 'vitest';
import { quantityText } from '../../../src/core/drawing/quantities';
import { printer } from '../../../src/core/units';

test('a small volume of the calculations is told in gallons on a US sheet and in litres on a metric one', () => {
  // 231 cubic inches of 0.0254 m: 0.003785411784 m3, one US gallon by definition.
  const gallon = { value: 231 * 0.0254 ** 3, unit: 'm3' } as const;
  expect(quantityText(gallon, printer('us'))).toBe('1 gal');
  expect(quantityText(gallon, printer('metric'))).toBe('3.785 L');
});
