import { describe, expect, it } from 'vitest';
import { emptyPlan } from '../../../src/core/plan';
import { fieldReadings } from '../../../src/core/review/fieldReadings';
import type { ReviewInput } from '../../../src/core/review/types';

const PSI = 0.70306957964;
const zone = {
  id: 'zone-1',
  number: 1,
  zoneKey: null,
  flowM3s: 2e-4,
  availableSourceHeadM: 55 * PSI,
  worstEmitter: { headM: 20 * PSI },
  readAt: { afterRegulator: 'after', regulatorInlet: 'before', connection: 'c' },
  network: {
    nodes: [
      { id: 'before', elevationM: 1 },
      { id: 'after', elevationM: 1 },
    ],
  },
  solution: { status: 'settled', headM: Float64Array.from([40 * PSI + 1, 25 * PSI + 1]) },
};
function codesOf(place: string, psi: number | null, flowM3s: number | null, zoneKey: string | null = '1') {
  const reading = {
    id: 'r',
    on: '14 May',
    by: 'A.B.',
    zoneKey,
    place,
    headM: psi === null ? null : psi * PSI,
    flowM3s,
    remark: '',
  };
  const plan = { ...emptyPlan('p'), readings: { r: reading } };
  return fieldReadings({ plan, supply: { zones: [zone] } } as unknown as ReviewInput).map(
    (found) => found.code,
  );
}

// Tolerance: 2 psi or 10 percent, the wider; flow 10 percent (common practice, no source).
describe('field readings against the prediction', () => {
  it('a pressure after the regulator agrees to 2.5 psi of 25 and no further', () => {
    expect(codesOf('after the regulator', 27.5, null)).toEqual(['review.pressure-agrees']);
    expect(codesOf('after the regulator', 27.6, null)).toEqual(['review.pressure-differs']);
  });

  it('reads each named place against its own prediction', () => {
    expect(codesOf('regulator inlet', 40, null)).toEqual(['review.pressure-agrees']);
    expect(codesOf('far end', 20, null)).toEqual(['review.pressure-agrees']);
    expect(codesOf('at the connection', 40, null)).toEqual(['review.pressure-differs']);
  });

  it('a flow a tenth above agrees, a fifth above does not', () => {
    expect(codesOf('meter', null, 2.2e-4)).toEqual(['review.flow-agrees']);
    expect(codesOf('meter', null, 2.4e-4)).toEqual(['review.flow-differs']);
  });

  it('a reading of no known place or zone is kept and compared with nothing', () => {
    expect(codesOf('behind the shed', 20, null)).toEqual([]);
    expect(codesOf('far end', 20, null, '7')).toEqual([]);
  });
});
