/** Letters of beds in order: A ... Z, AA, AB ... `index` counts from 0. */
export function bedMark(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : bedMark(Math.floor(index / 26) - 1) + letter;
}
