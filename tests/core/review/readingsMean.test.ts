import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { readGeoJson } from '../../../src/core/exchange';
import { readingsMean } from '../../../src/core/review/readingsMean';
import { faultFingerprints } from '../../../src/core/supply';

/** Two beds of 10 x 15 ft, 7 m apart, that one valve waters: A and B on the sheet. */
function twoBeds() {
  const path = new URL('../../reference/beds/01-rect10x15ft.geojson', import.meta.url);
  const one = JSON.parse(readFileSync(path, 'utf8')) as {
    features: { id: string; properties: Record<string, unknown>; geometry: { coordinates: number[][][] } }[];
  };
  const bed = one.features.find(({ properties }) => properties.kind === 'bed')!;
  const features = ['first', 'second'].map((name, n) => ({
    ...bed,
    id: name,
    properties: { ...bed.properties, name, id: name, stubUp: [0.09144 + 7 * n, 0] },
    geometry: {
      ...bed.geometry,
      coordinates: bed.geometry.coordinates.map((ring) => ring.map(([x, y]) => [x! + 7 * n, y!])),
    },
  }));
  const read = readGeoJson(JSON.stringify({ ...one, features }), { fileName: 'two.geojson' });
  if (!read.ok) throw new Error('the two beds read');
  return designPlan(read.value, typicalCatalog, { quality: 'preview' });
}

const design = twoBeds();
const [zone] = design.supply.zones;
const prints = faultFingerprints(
  zone!,
  typicalCatalog,
  design.beds.map(({ layout }) => layout),
)!;
const markOf = (runId: string | null): string =>
  design.beds.find(({ layout }) => layout.runs.some(({ id }) => id === runId))!.mark;
const flushes = prints.points.flatMap(({ kind, ofId }, at) =>
  kind === 'flush' ? [{ at, mark: markOf(ofId) }] : [],
);
/** What the flush valve of each bed reads, m, while that of bed `open` was left open. */
function readWhileOpen(open: string): Readonly<Record<string, number>> {
  const fault = prints.faults.find(
    ({ code, runId }) => code === 'supply.fault-flush-open' && markOf(runId) === open,
  )!;
  return Object.fromEntries(flushes.map(({ at, mark }) => [mark, fault.headM[at]!]));
}

/** The causes named when these pressures are read, as code and bed. */
function causesOf(headM: Readonly<Record<string, number>>): readonly string[] {
  const readings = Object.fromEntries(
    Object.entries(headM).map(([place, value], n) => [
      `r${n}`,
      { id: `r${n}`, on: '', by: '', zoneKey: '1', place, headM: value, flowM3s: null, remark: '' },
    ]),
  );
  const [found] = readingsMean({ ...design, plan: { ...design.plan, readings } });
  return (found?.params.causes ?? []) as readonly string[];
}

it('the two beds hang on one valve, each with a flush valve of its own', () => {
  expect(design.supply.zones).toHaveLength(1);
  expect(flushes.map(({ mark }) => mark).sort()).toEqual(['A', 'B']);
});

it('pressures at two flush valves name a fault of the bed that reads low, whichever of the two it is', () => {
  const [inA, inB] = [readWhileOpen('A'), readWhileOpen('B')];
  const first = causesOf({ 'at flush valve A1': inA.A!, 'Flush valve B1': inA.B! });
  expect(first[0]).toBe('supply.fault-flush-open|first');
  expect(first.every((cause) => cause.endsWith('|first'))).toBe(true);
  const second = causesOf({ 'at flush valve A1': inB.A!, 'Flush valve B1': inB.B! });
  expect(second[0]).toBe('supply.fault-flush-open|second');
  expect(second.every((cause) => cause.endsWith('|second'))).toBe(true);
});

it('a pressure at "the far end" of a zone with two, or at a valve that is not there, is held against neither', () => {
  const { B } = readWhileOpen('B');
  expect(causesOf({ 'at the far end': B! })).toEqual([]);
  expect(causesOf({ 'at flush valve B9': B! })).toEqual([]);
  expect(causesOf({ 'at flush valve B1': B! })).not.toEqual([]);
});
