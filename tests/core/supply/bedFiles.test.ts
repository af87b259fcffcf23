import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { readGeoJson } from '../../../src/core/exchange';
import {
  circlePoints,
  inflatePath,
  inset,
  intersect,
  type MultiPolygon,
  multiPolygonAreaM2,
  nestRings,
  type PlanPoint,
  unite,
} from '../../../src/core/geometry';
import { type Plan, readPlan } from '../../../src/core/plan';
import { designSupply, type SupplyDesign } from '../../../src/core/supply';
import { loopLayout, planWithSource, servedBed, smallBed } from './made';
import { buriedIn } from './standing';

const folder = new URL('../../reference/beds/', import.meta.url);
const files = readdirSync(folder)
  .filter((name) => name.endsWith('.geojson'))
  .sort();

function planOf(name: string): Plan {
  const read = readGeoJson(readFileSync(new URL(name, folder), 'utf8'), { fileName: name });
  if (!read.ok) throw new Error(`${name} cannot be read`);
  return read.value;
}

const pathsOf = (supply: SupplyDesign): PlanPoint[][] =>
  [...supply.main, ...supply.zones.flatMap(({ pipes }) => pipes)].map(({ path }) => [...path]);

/** What is cut out of the beds and edged as an obstacle or a foundation, and what stands drawn, 5 mm smaller. */
function standing(plan: Plan): MultiPolygon {
  const holes = Object.values(plan.beds).flatMap(({ rings }) =>
    rings
      .slice(1)
      .filter(({ edges }) => edges.some((edge) => edge.class === 'obstacle' || edge.class === 'foundation'))
      .map(({ points }) => nestRings([[...points]])),
  );
  const drawn = Object.values(plan.structures)
    .filter(({ kind }) => kind === 'building' || kind === 'obstacle')
    .flatMap(({ shape }) => {
      if (shape.kind === 'line') return [];
      const rings = shape.kind === 'area' ? shape.rings : [circlePoints(shape.at, shape.radiusM)];
      return [nestRings(rings.map((ring) => [...ring]))];
    });
  return inset(unite(...holes, ...drawn), 0.005);
}

const crossedM2 = (paths: readonly (readonly PlanPoint[])[], ground: MultiPolygon): number =>
  paths.reduce(
    (sum, path) => sum + multiPolygonAreaM2(intersect(nestRings(inflatePath([...path], 0.001)), ground)),
    0,
  );

/** Places a bed may be fed at: its stub-up as given, three round its outline, and both ends of the first things cut out of it. */
function feedsOf({ id, stubUp, rings }: Plan['beds'][string]): { id: string; at: PlanPoint }[] {
  const [outer, ...cutOut] = rings.map(({ points }) => points);
  const round = [0, 1, 2].map((third) => outer![Math.floor((third * outer!.length) / 3)]!);
  const beside = cutOut.slice(0, 2).flatMap((points) => {
    const west = points.reduce((best, point) => (point.x < best.x ? point : best));
    const east = points.reduce((best, point) => (point.x > best.x ? point : best));
    return [
      { x: west.x - 0.2, y: west.y },
      { x: east.x + 0.2, y: east.y },
    ];
  });
  return [...(stubUp ? [stubUp] : []), ...round, ...beside].map((at, index) => ({
    id: `${id}#${index}`,
    at,
  }));
}

/** Forty beds fed at six places each: seconds for each place of the water, so that one is enough here. */
const isAcre = (name: string): boolean => name.startsWith('21-acre');

/**
 * Mains and headers of a bed file, its tubing left out: they depend on outlines and feeds alone. A bed that is split is fed
 * at several places, so that headers must get past what is cut out of it; without a source, as in the files, the box stands
 * by the bed; with one, on its far side.
 */
function pipesPast(name: string): { supply: SupplyDesign; plan: Plan }[] {
  const plan = planOf(name);
  const beds = Object.values(plan.beds).filter(({ rings }) => rings[0]!.points.length > 2);
  const all = beds.flatMap(({ rings }) => rings[0]!.points);
  const low = { x: Math.min(...all.map(({ x }) => x)), y: Math.min(...all.map(({ y }) => y)) };
  const high = { x: Math.max(...all.map(({ x }) => x)), y: Math.max(...all.map(({ y }) => y)) };
  const middle = { x: (low.x + high.x) / 2, y: (low.y + high.y) / 2 };
  const shape = { ...smallBed, ...low };
  const sources = [
    { x: low.x - 4, y: middle.y },
    { x: middle.x, y: high.y + 4 },
  ].map((at) => planWithSource(at).sources);
  return (isAcre(name) ? [{}] : [{}, ...sources]).map((source) => {
    const withSource: Plan = { ...plan, sources: source };
    const served = beds.flatMap((bed) =>
      feedsOf(bed).map(({ id, at }) => {
        const outline = nestRings(bed.rings.map(({ points }) => [...points]));
        const layout = { ...loopLayout({ ...shape, id }), outline, stubUp: at };
        return servedBed(withSource, { ...shape, id }, { layout, zoneKey: 'one' });
      }),
    );
    const supply = designSupply({
      plan: withSource,
      catalog: typicalCatalog,
      beds: served,
      quality: 'preview',
    });
    return { plan: withSource, supply };
  });
}

describe('headers and mains of every bed file', () => {
  it.each(files)(
    '%s: none goes through what is cut out of the bed, and no box, valve or drain point stands in it',
    (name) => {
      for (const { supply, plan } of pipesPast(name)) {
        const ground = standing(plan);
        expect(pathsOf(supply).length).toBeGreaterThan(1);
        expect(crossedM2(pathsOf(supply), ground)).toBe(0);
        // The tubing is a stand-in here, so what stands on it (flush valves, air relief) says nothing.
        const buried = buriedIn(plan, supply).filter((line) => !/flush-valve|air-relief/.test(line));
        expect(buried).toEqual([]);
      }
    },
  );
});

describe('the demonstration', () => {
  const read = readPlan(
    readFileSync(new URL('../../../assets/demonstration.rillsheet.json', import.meta.url), 'utf8'),
    'demonstration',
  );
  if (!read.ok) throw new Error('the demonstration cannot be read');
  const { supply } = designPlan(read.value, typicalCatalog, { quality: 'preview' });

  it('has no pipe through the house or the boulder, and none over a pipe of another zone', () => {
    expect(crossedM2(pathsOf(supply), standing(read.value))).toBe(0);
    expect(supply.problems.map(({ code }) => code)).not.toContain('supply.pipes-cross');
  });
});
