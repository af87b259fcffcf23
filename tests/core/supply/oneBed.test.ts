import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designSupply } from '../../../src/core/supply';
import { GPM, loamDripline, PSI, planWithSource, servedBed, smallBed, withBed } from './made';

const plan = withBed(planWithSource({ x: -3, y: -2 }), smallBed);
const bed = servedBed(plan, smallBed);
const design = designSupply({ plan, catalog: typicalCatalog, beds: [bed], quality: 'finished' });
const zone = design.zones[0]!;

describe('a 10 x 15 ft bed of loam', () => {
  it('gets one low-flow assembly, and its flow is the sum of its emitters', () => {
    expect(design.zones).toHaveLength(1);
    expect(zone.assembly.class).toBe('low-flow');
    expect(zone.solution.status).toBe('settled');
    const emitters = bed.layout.runs[0]!.emittersM.length;
    expect(zone.emitters.headM).toHaveLength(emitters);
    // Compensating emitters above their threshold give the rated flow, plus 0.1 % a metre of head.
    const least = emitters * loamDripline.emitterFlowM3s;
    expect(zone.flowM3s).toBeGreaterThanOrEqual(least * 0.999);
    expect(zone.flowM3s).toBeLessThan(least * 1.015);
  });

  it('has every emitter between its least and greatest pressure, near the regulator setting', () => {
    expect(zone.emitterHeadM.min).toBeGreaterThan(10 * PSI);
    expect(zone.emitterHeadM.max).toBeLessThan(25 * PSI);
    expect(zone.worstEmitter.headM).toBeCloseTo(zone.emitterHeadM.min, 6);
  });

  it('asks less of the source than the source gives', () => {
    expect(zone.requiredSourceHeadM).toBeLessThan(zone.availableSourceHeadM);
    // By hand: 10 psi at the emitter, 5 psi the regulator standing open, 1.5 psi valve spring, 2 psi breaker spring,
    // and little else at 0.8 gpm: between 18.5 and 20 psi.
    expect(zone.requiredSourceHeadM / PSI).toBeGreaterThan(18.5);
    expect(zone.requiredSourceHeadM / PSI).toBeLessThan(20);
  });

  it('can be flushed at 1 ft/s on both legs', () => {
    expect(zone.flush).toHaveLength(1);
    expect(zone.flush[0]!.endVelocityMs).toBeGreaterThan(0.3048);
    expect(zone.flushTogether).toBe(1);
  });

  it('counts on three quarters of the measured 10 gpm', () => {
    expect(design.usableFlowM3s).toBeCloseTo(7.5 * GPM, 9);
  });
});
