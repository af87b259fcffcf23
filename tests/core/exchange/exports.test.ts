import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import DxfParser from 'dxf-parser';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import {
  csvText,
  cutsCsv,
  orderCsv,
  readGeoJson,
  takeoffCsv,
  writeDxf,
  writeGeoJson,
  writePlanGeoJson,
} from '../../../src/core/exchange';
import { type Plan, readPlan } from '../../../src/core/plan';

const file = new URL('../../../assets/demonstration.rillsheet.json', import.meta.url);
const read = readPlan(readFileSync(file, 'utf8'), 'demonstration');
if (!read.ok) throw new Error(JSON.stringify(read.problems));
const plan: Plan = read.value;
const design = designPlan(plan, typicalCatalog, { quality: 'preview' });
const somewhere = { longitudeDeg: -93.1234567, latitudeDeg: 44.9876543, bearingRad: 0.3 };
const local = { ...design, plan: { ...plan, georeference: null } };
const georeferenced = { ...design, plan: { ...plan, georeference: somewhere } };

type XY = readonly [number, number];
const lengthM = (path: readonly XY[]) =>
  path.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - path[i]![0], y - path[i]![1]), 0);

/** Keeps what a GeoJSON can say: sizes to a tenth of a millimetre; where a ring begins and which way it runs left out. */
const comparable = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value), (key, v) => {
    if (typeof v === 'number') return Math.round(v * 1e4) / 1e4;
    return key === 'rings' && Array.isArray(v[0])
      ? v.map((r: object[]) => r.map((p) => JSON.stringify(p)).sort())
      : v;
  });

describe('plan.geojson', () => {
  it('reads back as the plan it came from', () => {
    const again = readGeoJson(writePlanGeoJson(local.plan), { fileName: 'x.geojson' });
    expect(again.problems).toEqual([]);
    if (!again.ok) return;
    for (const map of [
      'structures',
      'trees',
      'plants',
      'utilities',
      'sources',
      'valves',
      'controllers',
      'spots',
    ] as const) {
      expect(comparable(again.value[map]), map).toEqual(comparable(plan[map]));
    }
    expect(Object.keys(again.value.beds).sort()).toEqual(Object.keys(plan.beds).sort());
    for (const [id, bed] of Object.entries(plan.beds)) {
      const { rings: _rings, stubUpElevationM: _height, ...choices } = bed;
      expect(comparable(again.value.beds[id]), id).toMatchObject(
        comparable({
          ...choices,
          lockedRoute: null,
          densityFactor: null,
          microclimateFactor: null,
          rootDepthM: null,
          alternative: null,
        }) as object,
      );
    }
  });

  it('comes back from WGS84 to within a millimetre, turned and moved as it is', () => {
    const text = writePlanGeoJson({ ...plan, georeference: somewhere });
    const again = readGeoJson(text, { fileName: 'x.geojson' });
    expect(again.ok && again.value.georeference).toMatchObject({ longitudeDeg: somewhere.longitudeDeg });
    const straight = readGeoJson(writePlanGeoJson(local.plan), { fileName: 'x.geojson' });
    if (!again.ok || !straight.ok) throw new Error('neither may fail');
    let worstM = 0;
    for (const [id, bed] of Object.entries(straight.value.beds)) {
      for (const [r, ring] of bed.rings.entries()) {
        for (const [i, point] of ring.points.entries()) {
          const other = again.value.beds[id]!.rings[r]!.points[i]!;
          worstM = Math.max(worstM, Math.hypot(point.x - other.x, point.y - other.y));
        }
      }
    }
    expect(worstM).toBeLessThan(0.001);
  });

  it('a plan of which only north is known stays in local metres and keeps its north and its bearings', () => {
    const georeference = { longitudeDeg: 0, latitudeDeg: 0, bearingRad: 0.3 };
    const sloping = Object.fromEntries(
      Object.entries(plan.beds).map(([id, bed]) => [id, { ...bed, slopeRatio: 0.1, slopeTowardRad: 1 }]),
    );
    const text = writePlanGeoJson({ ...plan, beds: sloping, georeference });
    expect(JSON.parse(text).rillsheet.frame).toBe('local-metres');
    const again = readGeoJson(text, { fileName: 'x.geojson' });
    if (!again.ok) throw new Error('it may not fail');
    expect(again.value.georeference?.bearingRad).toBeCloseTo(0.3, 9);
    const [id, bed] = Object.entries(again.value.beds)[0]!;
    // Written in degrees to six places.
    expect(bed.slopeTowardRad).toBeCloseTo(1, 7);
    const northless = readGeoJson(writePlanGeoJson(local.plan), { fileName: 'x.geojson' });
    expect(comparable(bed.rings)).toEqual(northless.ok && comparable(northless.value.beds[id]!.rings));
  });

  it('keeps to RFC 7946: outer rings anticlockwise and closed, longitude first', () => {
    const collection = JSON.parse(writeGeoJson(georeferenced));
    for (const feature of collection.features) {
      if (feature.geometry.type !== 'Polygon') continue;
      for (const [i, ring] of (feature.geometry.coordinates as XY[][]).entries()) {
        expect(ring[0]).toEqual(ring.at(-1));
        const twiceArea = ring
          .slice(1)
          .reduce((sum, [x, y], k) => sum + (ring[k]![0] * y - x * ring[k]![1]), 0);
        expect(twiceArea > 0).toBe(i === 0);
        expect(ring[0]![0]).toBeCloseTo(somewhere.longitudeDeg, 1);
      }
    }
  });

  it('has a feature for every bed, run, fitting and header, each id once', () => {
    const { features } = JSON.parse(writeGeoJson(design));
    const ids = features.map((f: { id: string }) => f.id);
    expect(new Set(ids).size).toBe(ids.length);
    const kinds = features.map((f: { properties: { kind: string } }) => f.properties.kind);
    const count = (kind: string) => kinds.filter((k: string) => k === kind).length;
    expect(count('run')).toBe(design.beds.reduce((sum, bed) => sum + bed.layout.runs.length, 0));
    expect(count('fitting')).toBe(design.beds.reduce((sum, bed) => sum + bed.layout.joins.length, 0));
    expect(count('header')).toBe(design.supply.zones.reduce((sum, zone) => sum + zone.pipes.length, 0));
  });

  it('given back as a plan leaves the results out, and says so', () => {
    const again = readGeoJson(writeGeoJson(design), { fileName: 'plan.geojson' });
    expect(again.ok && Object.keys(again.value.foreign)).toEqual(Object.keys(plan.foreign));
    expect(new Set(again.problems.map((p) => p.code))).toEqual(new Set(['exchange.result-left-out']));
  });
});

describe('plan.dxf', () => {
  const text = writeDxf(design);

  it('says metres and is read by another library with the same tubing to a millimetre', () => {
    const drawing = new DxfParser().parseSync(text);
    expect(drawing?.header.$INSUNITS).toBe(6);
    const onTubing = drawing!.entities.filter(
      (entity) => entity.layer === 'TUBING' || entity.layer === 'TUBING-BLANK',
    );
    const drawnM = onTubing.map((entity) => {
      const { vertices, shape } = entity as unknown as {
        vertices: { x: number; y: number }[];
        shape: boolean;
      };
      const path = vertices.map((v): XY => [v.x, v.y]);
      return lengthM(shape ? [...path, path[0]!] : path);
    });
    const runs = design.beds.flatMap((bed) => bed.layout.runs);
    expect(drawnM).toHaveLength(runs.length);
    for (const [i, run] of runs.entries()) expect(Math.abs(drawnM[i]! - run.lengthM)).toBeLessThan(0.001);
  });

  it('keeps the arcs of bed edges as arcs', () => {
    const drawing = new DxfParser().parseSync(text);
    const bulges = drawing!.entities
      .filter((entity) => entity.layer === 'BED')
      .flatMap((entity) =>
        (entity as unknown as { vertices: { bulge?: number }[] }).vertices.map((v) => v.bulge ?? 0),
      )
      .filter((bulge) => bulge !== 0);
    const arcs = Object.values(plan.beds)
      .flatMap((bed) => bed.rings.flatMap((ring) => ring.edges))
      .filter((e) => e.sagittaM !== 0);
    expect(bulges).toHaveLength(arcs.length);
  });

  it('cannot be broken by a name with line breaks and codes in it', () => {
    const hostile = {
      ...design,
      beds: design.beds.map((bed) => ({ ...bed, name: 'x\n0\nENDSEC\r\n0\nEOF' })),
    };
    const drawing = new DxfParser().parseSync(writeDxf(hostile));
    expect(drawing!.entities.length).toBe(new DxfParser().parseSync(text)!.entities.length);
  });

  it('is the same text every time', () => {
    expect(writeDxf(design)).toBe(text);
  });
});

/** Lengths of the lines GDAL finds in a file; `project` turns WGS84 to metres with GDAL's own projection first. */
function gdalLengths(name: string, text: string, sql: string, project?: string): number[] {
  const folder = mkdtempSync(join(tmpdir(), 'rillsheet-gdal-'));
  const path = join(folder, name);
  const flat = join(folder, 'flat', name);
  try {
    writeFileSync(path, text);
    mkdirSync(join(folder, 'flat'));
    if (project) spawnSync('ogr2ogr', ['-t_srs', project, '-lco', 'COORDINATE_PRECISION=9', flat, path]);
    const asked = ['-q', '-dialect', 'SQLITE', '-sql', sql, project ? flat : path];
    const run = spawnSync('ogrinfo', asked, { encoding: 'utf8' });
    return [...run.stdout.matchAll(/length \(Real\) = ([\d.e+-]+)/g)].map((match) => Number(match[1]));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
const hasGdal = spawnSync('ogrinfo', ['--version']).status === 0;
const needsGdal = hasGdal ? '' : ' (ogrinfo of gdal-bin is not installed here)';

describe(`GDAL reads the same lengths to a millimetre${needsGdal}`, () => {
  const runs = design.beds.flatMap((bed) => bed.layout.runs);
  const { longitudeDeg, latitudeDeg } = somewhere;
  const tmerc = `+proj=tmerc +lat_0=${latitudeDeg} +lon_0=${longitudeDeg} +k=1 +datum=WGS84 +units=m`;
  const onRuns = "SELECT ST_Length(geometry) AS length FROM plan WHERE kind = 'run'";
  const onTubing = "SELECT ST_Length(geometry) AS length FROM entities WHERE Layer LIKE 'TUBING%'";

  it.runIf(hasGdal).each([
    ['the drawing', 'plan.dxf', () => writeDxf(design), onTubing, undefined],
    ['the GeoJSON in local metres', 'plan.geojson', () => writeGeoJson(local), onRuns, undefined],
    ['the GeoJSON in WGS84', 'plan.geojson', () => writeGeoJson(georeferenced), onRuns, tmerc],
  ])('from %s', (_, name, write, sql, project) => {
    const found = gdalLengths(name, write(), sql, project);
    expect(found).toHaveLength(runs.length);
    for (const [i, run] of runs.entries()) expect(Math.abs(found[i]! - run.lengthM)).toBeLessThan(0.001);
  });
});

describe('the tables', () => {
  const parse = (text: string) => Papa.parse<string[]>(text.replace(/^\ufeff/, '').trim()).data;

  it('takeoff.csv has the lines of the takeoff, cuts.csv its cuts, order.csv its order', () => {
    expect(parse(takeoffCsv(design))).toHaveLength(design.takeoff.lines.length + 1);
    expect(parse(cutsCsv(design))).toHaveLength(design.takeoff.cuts.length + 1);
    expect(parse(orderCsv(design))).toHaveLength(design.takeoff.lines.length + 1);
    const cut = parse(cutsCsv(design))[1]!;
    expect(Number(cut[7]) * 0.3048).toBeCloseTo(design.takeoff.cuts[0]!.lengthM, 2);
  });

  it('no cell of words is run as a formula by a spreadsheet', () => {
    const text = csvText([['=1+1', '+cmd', '-2', '@x', '\tx', 'plain, "quoted"', 'two\nlines', -2]]);
    expect(parse(text)[0]).toEqual([
      "'=1+1",
      "'+cmd",
      "'-2",
      "'@x",
      "'\tx",
      'plain, "quoted"',
      'two\nlines',
      '-2',
    ]);
  });
});
