import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { readGeoJson, readInp, writeZoneInp } from '../../../src/core/exchange';
import { prepareNetwork, solvePrepared, withFigures } from '../../../src/core/hydraulics';
import { type Plan, readPlan } from '../../../src/core/plan';
import { askEngine } from '../../reference/hydraulics/engine';

const path = new URL('../../../assets/demonstration.rillsheet.json', import.meta.url);
const read = readPlan(readFileSync(path, 'utf8'), 'demonstration');
if (!read.ok) throw new Error('the demonstration cannot be read');
const bedFile = (name: string) => {
  const text = readFileSync(new URL(`../../reference/beds/${name}.geojson`, import.meta.url), 'utf8');
  const plan = readGeoJson(text, { fileName: name });
  if (!plan.ok) throw new Error(`${name} cannot be read`);
  return plan.value;
};
const PLANS: readonly (readonly [string, Plan])[] = [
  ['the demonstration', read.value],
  ['a bed of 10 x 15 ft', bedFile('01-rect10x15ft')],
  ['a strip of 3 x 60 ft', bedFile('09-strip3x60ft')],
  ['a bed round a tree', bedFile('12-one-tree')],
];

/** EPANET counts 1699 L/min in a cubic foot a second; read in its source. */
const ENGINE_LPM_M3S = 0.3048 ** 3 / 1699;

describe.each(PLANS)('the zones of %s, written as network files and solved by EPANET', (_name, plan) => {
  const { zones } = designPlan(plan, typicalCatalog, { quality: 'preview' }).supply;

  it('are there', () => {
    expect(zones.length).toBeGreaterThan(0);
  });

  for (const zone of zones) {
    const text = writeZoneInp(zone);

    it(`zone ${zone.number}: both solvers give the same answer to the same file, at every node`, async () => {
      const engine = await askEngine(text);
      const file = readInp(text, { fileName: 'zone.inp' });
      if (!file.ok) throw new Error(JSON.stringify(file.problems));
      const { network, constants, outlets } = file.value;
      const ours = solvePrepared(withFigures(prepareNetwork(network, constants), network, outlets));
      expect(ours.status).toBe('settled');
      let emitters = 0;
      network.nodes.forEach((node, i) => {
        expect(Math.abs(ours.headM[i]! - engine.head.get(node.id)!)).toBeLessThan(0.0035);
        if (node.emitter === undefined) return;
        emitters++;
        const theirs = engine.outflow.get(node.id)! * ENGINE_LPM_M3S;
        expect(Math.abs(ours.outflowM3s[i]! / theirs - 1)).toBeLessThan(1e-4);
      });
      expect(emitters).toBe(zone.emitters.headM.length);
    });

    it(`zone ${zone.number}: our own finer model stands from it no further than the file says`, async () => {
      const engine = await askEngine(text);
      const said = text.match(/differ by (-?[\d.]+) % in flow and by at most ([\d.]+) m/);
      expect(said).not.toBeNull();
      const allowedM = Number(said![2]) + 0.01;
      const ids = [...engine.head.keys()];
      expect(ids.length).toBe(zone.network.nodes.length);
      const names = text.match(/\[JUNCTIONS\]([^[]*)/)![1]!.match(/^[^;\s]+(?= )/gm)!;
      const junctions = zone.network.nodes.filter((node) => node.fixedHeadM === undefined);
      expect(names).toHaveLength(junctions.length);
      const place = new Map(zone.network.nodes.map((node, i) => [node.id, i]));
      junctions.forEach((node, j) => {
        if (node.emitter === undefined) return;
        const ours = zone.solution.headM[place.get(node.id)!]!;
        expect(Math.abs(ours - engine.head.get(names[j]!)!)).toBeLessThan(allowedM);
      });
    });
  }
});
