import { describe, expect, it } from 'vitest';
import { DEFAULTS, setting, settingSource, typicalCatalog } from '../../../src/core/catalog';

const inch = 0.0254;
const gpm = 0.003785411784 / 60;

describe('the typical catalogue', () => {
  // Outside diameters and walls: ASTM D1785 as tabulated on public data pages; inside = outside less two minimum walls.
  it.each([
    ['1/2 in', 0.622],
    ['3/4 in', 0.824],
    ['1 in', 1.049],
    ['1-1/4 in', 1.38],
    ['1-1/2 in', 1.61],
    ['2 in', 2.067],
    ['2-1/2 in', 2.469],
    ['3 in', 3.068],
  ])('Schedule 40 %s has the inside diameter of the standard', (nominal, insideIn) => {
    const pipe = typicalCatalog.pipes.find((p) => p.material === 'pvc-sch40' && p.nominal === nominal);
    expect(pipe?.insideDiameterM).toBeCloseTo(insideIn * inch, 9);
  });

  // ASTM D2241 SDR 21, walls from memory and checked against OD/21.
  it.each([
    ['3/4 in', 0.93],
    ['1 in', 1.189],
    ['1-1/4 in', 1.502],
    ['1-1/2 in', 1.72],
    ['2 in', 2.149],
  ])('Class 200 %s has the inside diameter of the standard', (nominal, insideIn) => {
    const pipe = typicalCatalog.pipes.find((p) => p.material === 'pvc-class200' && p.nominal === nominal);
    expect(pipe?.insideDiameterM).toBeCloseTo(insideIn * inch, 9);
  });

  it('gives every part an id of its own and a source', () => {
    const parts = Object.values(typicalCatalog).flat();
    expect(new Set(parts.map((p) => p.id)).size).toBe(parts.length);
    for (const part of parts) {
      expect(part.source.text).not.toBe('');
    }
  });

  it('has the low-flow assembly of 0.2 to 4.4 gpm at 25 psi, and a high-flow one that takes over there', () => {
    const low = typicalCatalog.assemblies.find((a) => a.id === 'assembly-low-flow-25psi');
    expect(low?.minFlowM3s).toBeCloseTo(0.2 * gpm, 12);
    expect(low?.maxFlowM3s).toBeCloseTo(4.4 * gpm, 12);
    expect(low?.regulatedHeadM).toBeCloseTo(25 * 0.70307, 3); // 1 psi = 0.70307 m of water
    const high = typicalCatalog.assemblies.find((a) => a.id === 'assembly-high-flow-25psi');
    expect(high?.minFlowM3s).toBe(low?.maxFlowM3s);
  });

  it('offers every flow from 0.26 to 0.9 gph at 12, 18 and 24 in, with and without compensation and check valves', () => {
    const offered = new Set(
      typicalCatalog.driplines.map((d) =>
        [
          d.emitter.kind,
          d.checkValve,
          Math.round((d.emitterFlowM3s / 0.003785411784) * 3600 * 100) / 100,
          Math.round(d.emitterSpacingM / inch),
        ].join(' '),
      ),
    );
    for (const flow of [0.26, 0.4, 0.6, 0.9]) {
      for (const spacing of [12, 18, 24]) {
        expect(offered).toContain(`compensating false ${flow} ${spacing}`);
        expect(offered).toContain(`compensating true ${flow} ${spacing}`);
        expect(offered).toContain(`power false ${flow} ${spacing}`);
      }
    }
  });
});

describe('the table of defaults', () => {
  it('holds the offsets of the trade, 12 in from a foundation and 24 in on clay', () => {
    expect(setting({}, 'offsetPavingM')).toBeCloseTo(0.0762, 9);
    expect(setting({}, 'offsetFoundationM')).toBeCloseTo(0.3048, 9);
    expect(setting({}, 'offsetFoundationClayM')).toBeCloseTo(0.6096, 9);
    expect(setting({}, 'velocityLimitMs')).toBeCloseTo(1.524, 9); // 5 ft/s
  });

  it("lets the designer's own figure stand in its place, and says so", () => {
    expect(setting({ mulchDepthM: 0.05 }, 'mulchDepthM')).toBe(0.05);
    expect(settingSource({ mulchDepthM: 0.05 }, 'mulchDepthM').standing).toBe('user');
    expect(settingSource({}, 'mulchDepthM')).toBe(DEFAULTS.mulchDepthM.source);
  });
});
