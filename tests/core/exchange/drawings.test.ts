import { readFileSync } from 'node:fs';
import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { readDxf, readPointsCsv, writeDxf } from '../../../src/core/exchange';
import { type Bed, readPlan } from '../../../src/core/plan';

function drawing(draw: (writer: DxfWriter) => void, units = Units.Feet): string {
  const writer = new DxfWriter();
  writer.setUnits(units);
  for (const name of ['PLANTING-BED', 'HOUSE', 'TREES', 'C-MISC']) writer.addLayer(name, 7, 'Continuous');
  draw(writer);
  return writer.stringify();
}
const square = (writer: DxfWriter, layerName: string, bulge = 0) =>
  writer.addLWPolyline(
    [
      { point: point2d(0, 0), bulge },
      { point: point2d(10, 0) },
      { point: point2d(10, 10) },
      { point: point2d(0, 10) },
    ],
    { layerName, flags: LWPolylineFlags.Closed },
  );
const read = (text: string, more = {}) => {
  const outcome = readDxf(text, { fileName: 'site.dxf', ...more });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

describe('a DXF drawing', () => {
  it('takes its unit from the file and says so', () => {
    const outcome = read(drawing((writer) => square(writer, 'PLANTING-BED')));
    expect(outcome.value).toMatchObject({ unit: 'ft', unitFrom: 'file' });
    // 10 ft = 3.048 m, exact.
    expect(outcome.value.plan.beds['bed-1']?.rings[0]?.points[2]).toEqual({ x: 3.048, y: 3.048 });
    expect(outcome.problems.map((p) => p.code)).toContain('exchange.drawing-unit-said');
  });

  it('that says no unit is guessed in metres with a warning, and read again in the unit chosen', () => {
    const text = drawing((writer) => square(writer, 'PLANTING-BED'), Units.Unitless);
    const guessed = read(text);
    expect(guessed.value.unitFrom).toBe('guess');
    expect(guessed.problems.find((p) => p.code === 'exchange.drawing-unit-guessed')?.severity).toBe('warn');
    expect(read(text, { unit: 'in' }).value.widthM).toBeCloseTo(0.254, 12);
  });

  it('keeps the arc of a bulge as the arc of the bed edge: a half circle below a 10 m edge', () => {
    const { value } = read(drawing((writer) => square(writer, 'PLANTING-BED', 1), Units.Meters));
    // A bulge of 1 is a half circle: its height is half the chord.
    expect(value.plan.beds['bed-1']?.rings[0]?.edges.map((edge) => edge.sagittaM)).toEqual([5, 0, 0, 0]);
  });

  it('takes layers as their names tell, and as the reader chooses instead', () => {
    const text = drawing((writer) => {
      square(writer, 'PLANTING-BED');
      square(writer, 'HOUSE');
      writer.addCircle(point3d(2, 2), 3, { layerName: 'TREES' });
      writer.addLine(point3d(0, 0), point3d(1, 1), { layerName: 'C-MISC' });
    }, Units.Meters);
    const { value } = read(text);
    expect(Object.keys(value.plan.beds)).toHaveLength(1);
    expect(Object.values(value.plan.structures).map((s) => s.kind)).toEqual(['building']);
    expect(Object.values(value.plan.trees)[0]?.canopyRadiusM).toBe(3);
    expect(Object.values(value.plan.underlays)[0]?.lines).toHaveLength(1);
    const chosen = read(text, { layers: { HOUSE: 'paving', TREES: 'obstacle', 'C-MISC': 'leave-out' } }).value
      .plan;
    expect(
      Object.values(chosen.structures)
        .map((s) => s.kind)
        .sort(),
    ).toEqual(['obstacle', 'paving']);
    expect(chosen.underlays).toEqual({});
  });

  it('draws out inserted blocks: scaled, turned, moved, once a column and row', () => {
    const text = drawing((writer) => {
      const block = writer.addBlock('PLANTER');
      block.addLWPolyline(
        [
          { point: point2d(0, 0) },
          { point: point2d(1, 0) },
          { point: point2d(1, 1) },
          { point: point2d(0, 1) },
        ],
        { flags: LWPolylineFlags.Closed },
      );
      writer.addInsert('PLANTER', point3d(5, 5), {
        layerName: 'PLANTING-BED',
        scaleFactor: { x: 2, y: 2, z: 2 },
        rotationAngle: 90,
      });
    }, Units.Meters);
    const ring = Object.values(read(text).value.plan.beds)[0]?.rings[0]?.points ?? [];
    // (1, 0) x 2, turned a quarter, moved to (5, 5): (5, 7).
    expect(ring[1]?.x).toBeCloseTo(5, 9);
    expect(ring[1]?.y).toBeCloseTo(7, 9);
  });

  it('draws an arc with its true length', () => {
    const text = drawing(
      (writer) => writer.addArc(point3d(0, 0), 10, 0, 270, { layerName: 'C-MISC' }),
      Units.Meters,
    );
    const line = Object.values(read(text).value.plan.underlays)[0]!.lines[0]!;
    const lengthM = line
      .slice(1)
      .reduce((sum, p, i) => sum + Math.hypot(p.x - line[i]!.x, p.y - line[i]!.y), 0);
    // Three quarters of 2 pi 10 = 47.124 m, chords a little less.
    expect(lengthM).toBeGreaterThan(47.1);
    expect(lengthM).toBeLessThan(47.124);
  });

  it('of grid coordinates is moved onto its site, and that is said', () => {
    const text = drawing((writer) => {
      writer.addLWPolyline(
        [
          { point: point2d(500_000, 4_100_000) },
          { point: point2d(500_010, 4_100_000) },
          { point: point2d(500_010, 4_100_010) },
        ],
        { layerName: 'PLANTING-BED', flags: LWPolylineFlags.Closed },
      );
    }, Units.Meters);
    const outcome = read(text);
    expect(outcome.value.plan.beds['bed-1']?.rings[0]?.points[1]).toEqual({ x: 10, y: 0 });
    expect(outcome.problems.map((p) => p.code)).toContain('exchange.drawing-moved');
  });

  it('written by us comes back with the same beds to a tenth of a millimetre', () => {
    const file = new URL('../../../assets/demonstration.rillsheet.json', import.meta.url);
    const plan = readPlan(readFileSync(file, 'utf8'), 'demonstration');
    if (!plan.ok) throw new Error('the demonstration reads');
    // Two beds are enough, one of them with arcs: routing them all takes most of a minute.
    const hasArc = (bed: Bed) => bed.rings.some((ring) => ring.edges.some((edge) => edge.sagittaM !== 0));
    const all = Object.values(plan.value.beds);
    const chosen = [all.find(hasArc)!, all.find((bed) => !hasArc(bed))!].sort((a, b) =>
      a.id < b.id ? -1 : 1,
    );
    const beds = Object.fromEntries(chosen.map((bed) => [bed.id, bed]));
    const design = designPlan({ ...plan.value, beds }, typicalCatalog, { quality: 'preview' });
    const { value } = read(writeDxf(design));
    const rings = chosen.flatMap((bed) => bed.rings);
    const back = Object.values(value.plan.beds).flatMap((bed) => bed.rings);
    expect(back).toHaveLength(rings.length);
    for (const [r, ring] of rings.entries()) {
      for (const [i, point] of ring.points.entries()) {
        expect(Math.hypot(point.x - back[r]!.points[i]!.x, point.y - back[r]!.points[i]!.y)).toBeLessThan(
          1e-4,
        );
        expect(Math.abs((ring.edges[i]?.sagittaM ?? 0) - back[r]!.edges[i]!.sagittaM)).toBeLessThan(1e-4);
      }
    }
  });

  it.each([
    ['', 'exchange.not-a-drawing'],
    ['{"type":"FeatureCollection"}', 'exchange.not-a-drawing'],
    ['AutoCAD Binary DXF\r\n\u001a', 'exchange.drawing-binary'],
    ['0\nSECTION\n2\nENTITIES\n', 'exchange.drawing-cut'],
    ['0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n', 'exchange.drawing-empty'],
    ['0\nSECTION\nnot a code\nENTITIES\n0\nEOF\n', 'exchange.drawing-unreadable'],
  ])('that is none is refused by name %#', (text, code) => {
    const outcome = readDxf(text, { fileName: 'x.dxf' });
    expect(outcome.ok).toBe(false);
    expect(outcome.problems.map((p) => p.code)).toContain(code);
  });

  it('whose blocks multiply without end is refused before it fills the memory', () => {
    const text = drawing((writer) => {
      const inner = writer.addBlock('B0');
      for (let i = 0; i < 20; i++) inner.addLine(point3d(0, 0), point3d(1, i + 1));
      for (let level = 1; level < 8; level++) {
        const block = writer.addBlock(`B${level}`);
        for (let i = 0; i < 20; i++) block.addInsert(`B${level - 1}`, point3d(i, 0));
      }
      writer.addInsert('B7', point3d(0, 0));
    }, Units.Meters);
    const outcome = readDxf(text, { fileName: 'bomb.dxf' });
    expect(outcome.problems.map((p) => p.code)).toContain('exchange.drawing-too-big');
  });
});

describe('a table of surveyed points', () => {
  const table = (text: string, unit?: 'ft') =>
    readPointsCsv(text, { fileName: 'survey.csv', ...(unit ? { unit } : {}) });

  it('gives spot heights, and outlines where points share a bed', () => {
    const outcome = table(
      'Name,Easting,Northing,Elevation,Bed\n1,0,0,1.5,north\n2,4,0,1.6,north\n3,4,3,,north\n4,9,9,2,\n',
    );
    expect(outcome.ok && Object.keys(outcome.value.spots)).toEqual(['1', '2', '4']);
    expect(outcome.ok && outcome.value.beds.north?.rings[0]?.points).toEqual([
      { x: 0, y: 0 },
      { x: 4, y: 0 },
      { x: 4, y: 3 },
    ]);
    expect(outcome.problems.map((p) => [p.code, p.severity])).toEqual([['exchange.table-unit', 'warn']]);
  });

  it('in feet and in longitude and latitude is laid in metres', () => {
    const feet = table('x,y,z\n10,20,3\n', 'ft');
    expect(feet.ok && Object.values(feet.value.spots)[0]?.at).toEqual({ x: 3.048, y: 6.096 });
    const earth = table('lat,lon,z\n45,-93,1\n45.0001,-93,1\n');
    const [a, b] = earth.ok ? Object.values(earth.value.spots) : [];
    expect(b!.at.y - a!.at.y).toBeCloseTo(11.1132, 3);
  });

  it('names the line of every row it cannot use, and refuses what is no table of points', () => {
    const outcome = table('x,y,z\n1,2,3\nfence,2,3\n1e999,2,3\n');
    expect(
      outcome.problems.filter((p) => p.code === 'exchange.table-bad-row').map((p) => p.where.line),
    ).toEqual([3, 4]);
    expect(table('a,b\n1,2\n').problems[0]?.code).toBe('exchange.table-without-columns');
    expect(table('x,y\nfence,post\n').problems.at(-1)?.code).toBe('exchange.table-without-points');
  });
});
