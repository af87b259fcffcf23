export {
  type BuildError,
  type BuildErrorCode,
  type BuildTolerance,
  buildTolerance,
  buildToleranceSteps,
} from './buildTolerance';
export { type Fault, type FaultCode, faultsOf } from './faults';
export {
  differ,
  type FaultFingerprints,
  type Fingerprint,
  faultFingerprintSteps,
  faultFingerprints,
  type RankedFault,
  rankFaults,
  type TestPoint,
} from './fingerprints';
export {
  type FoundPressure,
  foundPressure,
  foundPressureSteps,
  type PressureLimit,
  type PressureLimitCode,
} from './foundPressure';
export { isTooLargeToTry } from './zoneTrial';
