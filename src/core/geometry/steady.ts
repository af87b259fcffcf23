/*
 * Sums, products, square roots and `hypot` come out alike in every engine; these do not, in their last bits. On ground that is the
 * same left and right such a bit decides which of two rows is pulled, and a window would show another route than a command.
 */

const ANGLE_STEPS = 2 ** 40;
const SHARE_STEPS = 2 ** 32;

const steady = (value: number): number => Math.round(value * ANGLE_STEPS) / ANGLE_STEPS;

/** Cosine of an angle, the same in every engine: to 2^-40. */
export const cosOf = (angleRad: number): number => steady(Math.cos(angleRad));

/** Sine of an angle, the same in every engine: to 2^-40. */
export const sinOf = (angleRad: number): number => steady(Math.sin(angleRad));

/** Tangent of an angle, the same in every engine: to 2^-40. */
export const tanOf = (angleRad: number): number => steady(Math.tan(angleRad));

/** Direction of a vector, radians anticlockwise from x, in (-pi, pi], the same in every engine: to 2^-40. */
export const headingOf = (y: number, x: number): number => steady(Math.atan2(y, x));

/** Angle of a cosine from -1 to 1, radians, the same in every engine: to 2^-40. */
export const angleOfCosine = (cosine: number): number => steady(Math.acos(cosine));

/** e to a power that is not above 0, as a share from 0 to 1, the same in every engine: to 2^-32. */
export const shareOf = (power: number): number => Math.round(Math.exp(power) * SHARE_STEPS) / SHARE_STEPS;
