import type { Problem } from '../units';
import { assemblyWindow } from './assemblyWindow';
import { controllerStations, levelGround, meterUnknown } from './assumptions';
import { backflowHeight, backflowProtection, recycledWater } from './backflow';
import { emitterAboveGreatest, emitterBelowLeast } from './emitterPressure';
import { fieldReadings } from './fieldReadings';
import { flushReach, flushVelocity } from './flushing';
import { foundationOffset, locateFirst, steepRate, utilityCrossing } from './ground';
import { burst, staticPressure, tubingAtHighest } from './highPressure';
import { readingsMean } from './readingsMean';
import { regulatorInlet } from './regulatorInlet';
import { rootBalls } from './rootBalls';
import { runLength } from './runLength';
import { loadedFilter, sourceFlow, sourcePressure } from './sourceEnough';
import type { ReviewInput, Rule } from './types';
import { elevationSpread, uniformity } from './uniformity';
import { velocity } from './velocity';
import { bedWithoutZone, routeVerified, zoneMix } from './zoneMix';

/** Every rule there is; the order does not show. */
const RULES: readonly Rule[] = [
  emitterBelowLeast,
  emitterAboveGreatest,
  regulatorInlet,
  assemblyWindow,
  velocity,
  sourcePressure,
  sourceFlow,
  loadedFilter,
  staticPressure,
  burst,
  tubingAtHighest,
  backflowProtection,
  backflowHeight,
  recycledWater,
  flushVelocity,
  flushReach,
  uniformity,
  runLength,
  elevationSpread,
  zoneMix,
  bedWithoutZone,
  routeVerified,
  locateFirst,
  utilityCrossing,
  fieldReadings,
  readingsMean,
  foundationOffset,
  steepRate,
  rootBalls,
  levelGround,
  meterUnknown,
  controllerStations,
];

/** All findings of all rules, in the order of the rules. */
export function reviewDesign(input: ReviewInput): readonly Problem[] {
  return RULES.flatMap((rule) => rule(input));
}
