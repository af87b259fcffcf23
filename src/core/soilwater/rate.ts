import type { Dripline } from '../catalog';
import type { Traced } from '../units';
import { SOURCES } from './sources';

/**
 * Depth of water a dripline would lay on its ground in a second, if every row stood at the same spacing (m/s).
 * In US units this is 231 x gph / (emitter in x row in) in/h; in metric L/h / (m x m) mm/h. Exact.
 * Range: both spacings > 0.
 */
export function nominalApplicationRateMs(
  dripline: Pick<Dripline, 'emitterFlowM3s' | 'emitterSpacingM'>,
  rowSpacingM: number,
): number {
  return dripline.emitterFlowM3s / (dripline.emitterSpacingM * rowSpacingM);
}

/** The nominal rate with its formula and inputs, for the calculations sheet. */
export function traceNominalRate(
  dripline: Pick<Dripline, 'emitterFlowM3s' | 'emitterSpacingM'>,
  rowSpacingM: number,
): Traced {
  return {
    code: 'soilwater.nominal-application-rate',
    result: { value: nominalApplicationRateMs(dripline, rowSpacingM), unit: 'm/s' },
    formula: 'rate = emitter flow / (emitter spacing x row spacing)',
    inputs: [
      { name: 'emitter flow', quantity: { value: dripline.emitterFlowM3s, unit: 'm3/s' } },
      { name: 'emitter spacing', quantity: { value: dripline.emitterSpacingM, unit: 'm' } },
      { name: 'row spacing', quantity: { value: rowSpacingM, unit: 'm' } },
    ],
    source: SOURCES.applicationRate,
  };
}

/**
 * Depth of water laid in a second as the bed is really laid: solved flow over served area (m/s).
 * 96.25 x gpm / ft2 in in/h. Range: area > 0.
 */
export function laidApplicationRateMs(flowM3s: number, servedAreaM2: number): number {
  return flowM3s / servedAreaM2;
}

/** The rate as laid with its formula and inputs. */
export function traceLaidRate(flowM3s: number, servedAreaM2: number, from?: string): Traced {
  return {
    code: 'soilwater.laid-application-rate',
    result: { value: laidApplicationRateMs(flowM3s, servedAreaM2), unit: 'm/s' },
    formula: 'rate = flow / served area',
    inputs: [
      {
        name: 'flow',
        quantity: { value: flowM3s, unit: 'm3/s' },
        ...(from === undefined ? {} : { from }),
      },
      { name: 'served area', quantity: { value: servedAreaM2, unit: 'm2' } },
    ],
    source: SOURCES.volumeOverArea,
  };
}
