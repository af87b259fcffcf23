/**
 * Rounds every number of a value to what its use needs, so that two machines print the same text: coordinates and lengths
 * to 0.1 mm, everything smaller than a metre to seven significant digits. Typed arrays become plain ones.
 * Fails: throws on a number that is not finite, which is our bug.
 */
export function withFixedDigits(value: unknown): unknown {
  if (typeof value === 'number') return fixedNumber(value);
  if (typeof value !== 'object' || value === null) return value;
  if (ArrayBuffer.isView(value)) return Array.from(value as Float64Array, fixedNumber);
  if (Array.isArray(value)) return value.map(withFixedDigits);
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined)
      .map(([key, inner]) => [key, withFixedDigits(inner)]),
  );
}

/** One number with fixed digits: four decimals from one upwards, seven significant digits below. */
export function fixedNumber(value: number): number {
  if (!Number.isFinite(value)) throw new Error('a number that is not finite reached an output');
  const rounded = Math.abs(value) >= 1 ? Math.round(value * 1e4) / 1e4 : Number(value.toPrecision(7));
  return rounded === 0 ? 0 : rounded;
}
