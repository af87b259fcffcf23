import { METRES_PER_FOOT, STANDARD_GRAVITY_MS2 } from '../units';

/** The few constants on which head-loss formulas in print disagree. All SI. */
export interface HydraulicConstants {
  readonly gravityMs2: number;
  /** a of h = a L Q^1.852 / (C^1.852 D^b), metres and m3/s. */
  readonly hazenWilliamsCoefficient: number;
  /** b of the same. */
  readonly hazenWilliamsDiameterExponent: number;
  /** a of the local loss h = a K Q^2 / D^4, i.e. 8 / (pi^2 g). */
  readonly localLossCoefficient: number;
}

/**
 * What the program computes with: standard gravity and the SI form of Hazen-Williams (10.67, 4.8704).
 * Source: the SI form as printed in handbooks of hydraulics; gravity exact (3rd CGPM, 1901).
 */
export const STANDARD_CONSTANTS: HydraulicConstants = {
  gravityMs2: STANDARD_GRAVITY_MS2,
  hazenWilliamsCoefficient: 10.67,
  hazenWilliamsDiameterExponent: 4.8704,
  localLossCoefficient: 8 / (Math.PI ** 2 * STANDARD_GRAVITY_MS2),
};

/**
 * The constants of EPANET 2.2 and 2.3, for holding two solvers against each other on equal terms.
 * Source: read in OWA-EPANET, src/types.h and src/hydcoeffs.c: 4.727 and 4.871 in feet and cfs, g 32.2 ft/s2,
 * local loss 0.02517 K q^2 / D^4.
 */
export const EPANET_CONSTANTS: HydraulicConstants = {
  gravityMs2: 32.2 * METRES_PER_FOOT,
  hazenWilliamsCoefficient: 4.727 * METRES_PER_FOOT ** (4.871 - 3 * 1.852),
  hazenWilliamsDiameterExponent: 4.871,
  localLossCoefficient: 0.02517 / METRES_PER_FOOT,
};
