/** Relative slack under which a figure counts as the whole number it was meant to be. */
const WHOLE_SLACK = 1e-9;

/** Least whole number not below a figure >= 0; a figure a hair above a whole number, by arithmetic alone, is that number. */
export function wholeUp(value: number): number {
  return Math.max(0, Math.ceil(value - WHOLE_SLACK * Math.max(1, Math.abs(value))));
}

/** Greatest whole number not above a figure >= 0, with the same slack. */
export function wholeDown(value: number): number {
  return Math.max(0, Math.floor(value + WHOLE_SLACK * Math.max(1, Math.abs(value))));
}
