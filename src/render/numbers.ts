/** A number with at most `digits` decimals and no trailing zeros. Throws on NaN and infinity: a drawing never holds them. */
export function shortNumber(value: number, digits: number): string {
  if (!Number.isFinite(value)) throw new Error(`a drawing holds ${value}`);
  const factor = 10 ** digits;
  const rounded = Math.round(value * factor) / factor;
  return Object.is(rounded, -0) ? '0' : String(rounded);
}
