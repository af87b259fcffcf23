import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { readInp, writeZoneInp } from '../../../src/core/exchange';
import type { PlanPoint } from '../../../src/core/geometry';
import { prepareNetwork, solvePrepared, withFigures } from '../../../src/core/hydraulics';
import type { Plan } from '../../../src/core/plan';
import { designSupply, type SupplyDesign } from '../../../src/core/supply';
import { takeOff } from '../../../src/core/takeoff';
import { askEngine } from '../../reference/hydraulics/engine';
import { FOOT, PSI, planWithSource, servedBed, smallBed, withBed } from './made';

const valveAt = (at: PlanPoint, elevationM: number): Plan['valves'] => ({
  v: { id: 'v', name: '', at, elevationM, zoneKey: null, assemblyId: null },
});
const spotAt = (id: string, at: PlanPoint, elevationM: number): Plan['spots'][string] => ({
  id,
  at,
  elevationM,
});
const supplyOf = (plan: Plan): SupplyDesign =>
  designSupply({ plan, catalog: typicalCatalog, beds: [servedBed(plan, smallBed)], quality: 'preview' });
const drainsOf = (supply: SupplyDesign, zoneId: string | null) =>
  [...supply.devices, ...supply.zones.flatMap(({ devices }) => devices)].filter(
    (device) => device.kind === 'drain-point' && device.zoneId === zoneId,
  );

/** Metres from a place to the nearest of some pipes, by hand: foot of the perpendicular or the nearer end. */
function offPipesM(at: PlanPoint, paths: readonly (readonly PlanPoint[])[]): number {
  let bestM = Number.POSITIVE_INFINITY;
  for (const path of paths)
    for (let i = 1; i < path.length; i++) {
      const [a, b] = [path[i - 1]!, path[i]!];
      const [dx, dy] = [b.x - a.x, b.y - a.y];
      const t = Math.min(1, Math.max(0, ((at.x - a.x) * dx + (at.y - a.y) * dy) / (dx * dx + dy * dy)));
      bestM = Math.min(bestM, Math.hypot(at.x - a.x - t * dx, at.y - a.y - t * dy));
    }
  return bestM;
}

const falling: Plan = {
  ...withBed(planWithSource({ x: -20, y: -2 }, { elevationM: 0 }), smallBed, { elevationM: -6 * FOOT }),
  valves: valveAt({ x: -18, y: -1 }, 0),
};
/** A hollow between the box and the bed: the header's water cannot run out at either end. */
const hollow: Plan = {
  ...withBed(planWithSource({ x: -30, y: 1 }, { elevationM: 0 }), smallBed, { elevationM: 0 }),
  valves: valveAt({ x: -28, y: 1 }, 0),
  lockedPipes: {
    h: {
      id: 'h',
      role: 'header',
      zoneKey: null,
      path: [
        { x: -26, y: 1 },
        { x: -14, y: 1 },
        { x: -2, y: 1 },
      ],
      pipeId: null,
    },
  },
  spots: {
    top: spotAt('top', { x: -26, y: 1 }, 0),
    deep: spotAt('deep', { x: -14, y: 1 }, -1.5),
    far: spotAt('far', { x: -2, y: 1 }, 0),
  },
};

describe('drain points of the headers', () => {
  it('a header that falls to its bed drains at the bed, one on level ground at its far end', () => {
    const level = withBed(planWithSource({ x: -20, y: -2 }), smallBed);
    for (const plan of [falling, level]) {
      const [zone] = supplyOf(plan).zones;
      expect(zone!.drains).toHaveLength(1);
      const { stubUp } = servedBed(plan, smallBed).layout;
      const at = zone!.drains[0]!.at;
      // A step before the stub-up, 0.45 m, so that the two do not stand on each other.
      expect(Math.hypot(at.x - stubUp.x, at.y - stubUp.y)).toBeCloseTo(0.45, 2);
    }
  });

  it('a header through a hollow drains at the bottom of the hollow, where its pipe is parted by a tee', () => {
    const [zone] = supplyOf(hollow).zones;
    const bottom = zone!.drains[0]!;
    expect(Math.hypot(bottom.at.x - -14, bottom.at.y - 1)).toBeLessThan(0.001);
    const ends = zone!.pipes.flatMap(({ path }) => [path[0]!, path.at(-1)!]);
    expect(ends.filter(({ x, y }) => Math.hypot(x + 14, y - 1) < 0.001)).toHaveLength(2);
  });

  it('two hollows have two drains, a ripple of less than a foot between them has one', () => {
    const twice = (ridgeM: number): Plan => ({
      ...hollow,
      lockedPipes: {
        h: {
          ...hollow.lockedPipes.h!,
          path: [-26, -20, -14, -8, -2].map((x) => ({ x, y: 1 })),
        },
      },
      spots: {
        top: spotAt('top', { x: -26, y: 1 }, 0),
        one: spotAt('one', { x: -20, y: 1 }, -2),
        ridge: spotAt('ridge', { x: -14, y: 1 }, ridgeM),
        two: spotAt('two', { x: -8, y: 1 }, -2),
        far: spotAt('far', { x: -2, y: 1 }, 0),
      },
    });
    expect(supplyOf(twice(-1.2)).zones[0]!.drains).toHaveLength(2);
    expect(supplyOf(twice(-1.9)).zones[0]!.drains).toHaveLength(1);
  });

  it('each stands on a trench, is a node of the network that the zone is solved with, and a device of its zone', () => {
    for (const plan of [falling, hollow]) {
      const supply = supplyOf(plan);
      const [zone] = supply.zones;
      const drawn = drainsOf(supply, zone!.id);
      expect(drawn.map(({ id }) => id)).toEqual(zone!.drains.map(({ deviceId }) => deviceId));
      expect(drawn.map(({ at }) => at)).toEqual(zone!.drains.map(({ at }) => at));
      for (const { at, nodeId } of zone!.drains) {
        expect(
          offPipesM(
            at,
            zone!.pipes.map(({ path }) => path),
          ),
        ).toBeLessThan(0.001);
        expect(zone!.network.nodes.map(({ id }) => id)).toContain(nodeId);
        const touching = zone!.network.links.filter(({ from, to }) => from === nodeId || to === nodeId);
        expect(touching).toHaveLength(2);
      }
      const main = drainsOf(supply, null);
      expect(main).toHaveLength(1);
      expect(
        offPipesM(
          main[0]!.at,
          supply.main.map(({ path }) => path),
        ),
      ).toBeLessThan(0.001);
    }
  });

  it('stands in the exported network file under its name, and both engines read the same pressure there', async () => {
    for (const plan of [falling, hollow]) {
      const [zone] = supplyOf(plan).zones;
      const text = writeZoneInp(zone!);
      const file = readInp(text, { fileName: 'zone.inp' });
      if (!file.ok) throw new Error(JSON.stringify(file.problems));
      const { network, constants, outlets } = file.value;
      const ours = solvePrepared(withFigures(prepareNetwork(network, constants), network, outlets));
      const engine = await askEngine(text);
      for (const { nodeId } of zone!.drains) {
        expect(nodeId).toMatch(/^header-drain-\d$/);
        const place = network.nodes.findIndex(({ id }) => id === nodeId);
        expect(Math.abs(engine.head.get(nodeId)! - ours.headM[place]!)).toBeLessThan(0.05 * PSI);
      }
    }
  });

  it('each brings a drain, its box and a tee to the takeoff', () => {
    const supply = supplyOf(falling);
    const served = servedBed(falling, smallBed);
    const counted = [
      { id: smallBed.id, name: 'A', dripline: served.dripline, layout: served.layout, soil: 'loam' },
    ];
    const of = (design: SupplyDesign) => {
      const { lines } = takeOff({ plan: falling, catalog: typicalCatalog, beds: counted, supply: design });
      return (part: string) => lines.find((line) => line.part === part)?.quantity ?? 0;
    };
    const drained = of(supply);
    const dry = of({
      ...supply,
      devices: supply.devices.filter(({ kind }) => kind !== 'drain-point'),
      zones: supply.zones.map((zone) => ({
        ...zone,
        devices: zone.devices.filter(({ kind }) => kind !== 'drain-point'),
      })),
    });
    // One on the main, one on the header.
    for (const part of ['drain-point', 'drain-box', 'pvc-tee']) expect(drained(part) - dry(part)).toBe(2);
  });
});
