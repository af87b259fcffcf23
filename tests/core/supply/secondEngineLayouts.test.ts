import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { createDesignCache, designPlan } from '../../../src/core/design';
import { readInp, writeZoneInp } from '../../../src/core/exchange';
import { prepareNetwork, solvePrepared, withFigures } from '../../../src/core/hydraulics';
import type { Plan, WaterSource } from '../../../src/core/plan';
import type { Zone } from '../../../src/core/supply';
import { askEngine } from '../../reference/hydraulics/engine';
import { FOOT, GPM, PSI, planWithSource, smallBed, withBed } from './made';

type BedChanges = NonNullable<Parameters<typeof withBed>[2]>;
const second = { ...smallBed, id: 'bed-b', x: 9, y: 1 };

/** The zones of a plan routed, piped and solved by the whole program. */
function zonesOf(source: Partial<WaterSource>, ...beds: readonly BedChanges[]): readonly Zone[] {
  const plan = beds.reduce(
    (so: Plan, changes, index) => withBed(so, index === 0 ? smallBed : second, changes),
    planWithSource({ x: -3, y: -2 }, source),
  );
  return designPlan(plan, typicalCatalog, { quality: 'preview', cache: createDesignCache() }).supply.zones;
}

interface Compared {
  readonly emitters: number;
  readonly worstHeadM: number;
  readonly worstFlowRatio: number;
}

/** Solves the zone's file with both engines; every emitter's head and flow, one by one. */
async function compare(zone: Zone): Promise<Compared> {
  const text = writeZoneInp({ name: zone.name, network: zone.network, flowM3s: zone.flowM3s });
  const read = readInp(text, { fileName: 'zone.inp' });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const { network, outlets, constants } = read.value;
  const own = solvePrepared(withFigures(prepareNetwork(network, constants), network, outlets));
  expect(own.status).toBe('settled');
  const engine = await askEngine(text);
  let emitters = 0;
  let worstHeadM = 0;
  let worstFlowRatio = 0;
  network.nodes.forEach((node, index) => {
    worstHeadM = Math.max(worstHeadM, Math.abs(own.headM[index]! - engine.head.get(node.id)!));
    const litresPerMinute = own.outflowM3s[index]! * 60_000;
    if (node.fixedHeadM !== undefined || litresPerMinute < 1e-6) return;
    emitters++;
    const ratio = Math.abs(engine.outflow.get(node.id)! / litresPerMinute - 1);
    worstFlowRatio = Math.max(worstFlowRatio, ratio);
  });
  return { emitters, worstHeadM, worstFlowRatio };
}

const stateOf = (zone: Zone): string =>
  zone.solution.state[zone.network.links.findIndex(({ kind }) => kind === 'regulator')]!;
const well: Partial<WaterSource> = {
  water: 'well',
  staticHeadM: null,
  lowestStaticHeadM: null,
  highestStaticHeadM: null,
  flowTestM3s: null,
  flowTestHeadM: null,
  pumpCurve: [
    { flowM3s: 0, headM: 58 * PSI },
    { flowM3s: 6 * GPM, headM: 50 * PSI },
    { flowM3s: 12 * GPM, headM: 38 * PSI },
  ],
  pumpCutInHeadM: 52 * PSI,
};
const weak = { staticHeadM: 24 * PSI, lowestStaticHeadM: 24 * PSI, flowTestHeadM: 17 * PSI };
const weaker = { staticHeadM: 18 * PSI, lowestStaticHeadM: 18 * PSI, flowTestHeadM: 12 * PSI };
const plain = 'dripline-plain-0.6gph-12in';

const CASES: readonly [string, string, () => readonly Zone[]][] = [
  ['one loop', 'active', () => zonesOf({}, { layout: 'loop' })],
  ['a loop with a centre row', 'active', () => zonesOf({}, { layout: 'loop-centre-row' })],
  ['laterals on a header', 'active', () => zonesOf({}, { layout: 'laterals' })],
  ['a bed split into loops of 60 ft', 'active', () => zonesOf({}, { layout: 'loop', maxRunM: 60 * FOOT })],
  [
    'two beds on one valve, the second 6 ft down a bank, behind a check valve, plain emitters',
    'active',
    () =>
      zonesOf(
        { elevationM: 0 },
        { driplineId: plain, elevationM: 0 },
        { driplineId: plain, elevationM: -6 * FOOT },
      ),
  ],
  ['a well pump below its cut-in', 'active', () => zonesOf(well, { layout: 'loop' })],
  [
    'a source too weak for the regulator',
    'open',
    () => zonesOf(weak, { driplineId: 'dripline-pc-0.9gph-12in' }),
  ],
  [
    'one weaker still, with plain emitters',
    'open',
    () => zonesOf(weaker, { driplineId: plain, layout: 'laterals' }),
  ],
];

describe('every emitter of zones that the whole program laid out, held against EPANET', () => {
  it.each(CASES)('%s (regulator %s)', async (_name, state, make) => {
    const zones = make();
    expect(zones.length).toBeGreaterThan(0);
    for (const zone of zones) {
      expect(stateOf(zone)).toBe(state);
      const { emitters, worstHeadM, worstFlowRatio } = await compare(zone);
      expect(emitters).toBe(zone.emitters.headM.length);
      expect(emitters).toBeGreaterThan(60);
      expect(worstHeadM).toBeLessThan(0.05 * PSI);
      expect(worstFlowRatio).toBeLessThan(1e-3);
    }
  });
});
