/** Exact by definition (international yard and pound agreement, 1959). */
export const METRES_PER_FOOT = 0.3048;
/** Exact: a twelfth of a foot. */
export const METRES_PER_INCH = 0.0254;
/** Exact: the US liquid gallon is 231 cubic inches. */
export const M3_PER_US_GALLON = 231 * METRES_PER_INCH ** 3;
/** Exact: standard acceleration of free fall (3rd CGPM, 1901). */
export const STANDARD_GRAVITY_MS2 = 9.80665;
/** Exact: avoirdupois pound, kilograms. */
export const KG_PER_POUND = 0.45359237;
/** Exact: pound-force per square inch, pascals. */
export const PA_PER_PSI = (KG_PER_POUND * STANDARD_GRAVITY_MS2) / METRES_PER_INCH ** 2;
/**
 * Density of the water that "metres of head" are measured in. 1000 kg/m3 is the conventional value of a metre of water
 * (ISO 80000-4 note on mmH2O); with it 1 psi = 0.70307 m and 10 ft of rise = 4.335 psi.
 */
export const WATER_DENSITY_KGM3 = 1000;
/** Metres of head in a pascal. */
export const HEAD_M_PER_PA = 1 / (WATER_DENSITY_KGM3 * STANDARD_GRAVITY_MS2);
export const HEAD_M_PER_PSI = PA_PER_PSI * HEAD_M_PER_PA;
export const HEAD_M_PER_KPA = 1000 * HEAD_M_PER_PA;
export const HEAD_M_PER_BAR = 100_000 * HEAD_M_PER_PA;
export const M3S_PER_GPM = M3_PER_US_GALLON / 60;
export const M3S_PER_GPH = M3_PER_US_GALLON / 3600;
export const M3S_PER_LPH = 1 / 3_600_000;
export const M3S_PER_LPM = 1 / 60_000;
export const M3S_PER_LPS = 1 / 1000;
