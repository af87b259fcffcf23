/** Grid that coordinates are rounded to between stages: a tenth of what a tape can be read to, coarse enough to hide the last bits in which engines differ. */
export const GRID_M = 1e-4;
/** Steps of the grid in a metre; an exact integer, so that rounding is one multiplication. */
export const GRID_STEPS_PER_M = 10_000;
/** Two points nearer than this are one point: the diagonal of a grid cell. */
export const SAME_POINT_M = 1.5e-4;
/** Height of an arc over the chords that stand for it: half a millimetre is below the width of a drawn line at 1:10. */
export const CHORD_TOLERANCE_M = 5e-4;
/** How much nearer than an edge's offset tubing may lie: less than a crew can place it. */
export const CLEARANCE_TOLERANCE_M = 2e-3;
/** A row that strays less than this from a line is straight: below the wall thickness of the tubing. */
export const STRAIGHT_TOLERANCE_M = 1e-3;
/** Parts smaller than a hand's breadth square are dirt of the input, never ground. */
export const DIRT_AREA_M2 = 1e-3;
