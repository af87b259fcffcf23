import type { DoorName } from './formats';

/** A file made to do harm, made only when it is its turn. */
interface Bomb {
  readonly name: string;
  readonly door: DoorName;
  readonly make: () => string;
  /** True where the file is sound in itself and may come in. */
  readonly mayBeTaken?: boolean;
}

const SQUARE = '[[[0,0],[4,0],[4,3],[0,3],[0,0]]]';
const bedOf = (coordinates: string, more = ''): string =>
  `{"type":"Feature","properties":{"kind":"bed"${more}},"geometry":{"type":"Polygon","coordinates":${coordinates}}}`;
const site = (features: string, top = ''): string =>
  `{"type":"FeatureCollection","rillsheet":{"frame":"local-metres"}${top},"features":[${features}]}`;
const planWith = (inside: string): string => `{"format":"rillsheet-plan","version":1,${inside}}`;
const drawing = (sections: string): string => `0\nSECTION\n${sections}0\nENDSEC\n0\nEOF\n`;
const line = (n: number): string => `0\nLINE\n8\nBED\n10\n${n}\n20\n0\n11\n${n}\n21\n1\n`;
const many = (count: number, make: (n: number) => string): string =>
  Array.from({ length: count }, (_, n) => make(n)).join('');
const block = (name: string, inside: string): string =>
  `0\nBLOCK\n2\n${name}\n10\n0\n20\n0\n${inside}0\nENDBLK\n`;
const insert = (name: string, columns = 1, rows = 1): string =>
  `0\nINSERT\n8\nBED\n2\n${name}\n10\n0\n20\n0\n70\n${columns}\n71\n${rows}\n44\n1\n45\n1\n`;
const u32 = (value: number): string =>
  String.fromCharCode((value >>> 24) & 255, (value >>> 16) & 255, (value >>> 8) & 255, value & 255);
const chunk = (name: string, data: string): string => `${u32(data.length)}${name}${data}\0\0\0\0`;
const png = (width: number, height: number, more = ''): string =>
  `\x89PNG\r\n\x1a\n${chunk('IHDR', `${u32(width)}${u32(height)}\x08\x06\0\0\0`)}${more}${chunk('IDAT', 'x')}${chunk('IEND', '')}`;
const jpeg = (width: number, height: number, scans = 1): string => {
  const u16 = (value: number): string => String.fromCharCode(value >> 8, value & 255);
  const frame = `\xff\xc2\0\x0b\x08${u16(height)}${u16(width)}\x01\x01\x11\0`;
  return `\xff\xd8${frame}${'\xff\xda\0\x08\x01\x01\0\0\x3f\0x'.repeat(scans)}\xff\xd9`;
};

/** Files that are refused, or taken whole, before they do harm. */
export const BOMBS: readonly Bomb[] = [
  { name: 'nothing at all', door: 'plan', make: () => '' },
  { name: 'words that are no JSON', door: 'geojson', make: () => 'bed, 10 x 15 ft' },
  { name: 'another kind of JSON', door: 'geojson', make: () => '{"name":"package","version":"1.0.0"}' },
  { name: 'a site without a bed', door: 'geojson', make: () => site('') },
  {
    name: 'coordinates off the earth',
    door: 'geojson',
    make: () => site(bedOf('[[[500,95],[501,95],[501,96],[500,95]]]')).replace('local-metres', 'wgs84'),
  },
  { name: 'brackets 5 million deep', door: 'plan', make: () => '['.repeat(5_000_000) },
  {
    name: 'braces 2 million deep, closed',
    door: 'geojson',
    make: () => `${'{"a":'.repeat(2_000_000)}1${'}'.repeat(2_000_000)}`,
  },
  {
    name: 'a feature nested 100,000 deep',
    door: 'geojson',
    make: () => site(bedOf(`${'['.repeat(100_000)}${']'.repeat(100_000)}`)),
  },
  {
    name: 'a geometry collection in itself 60 deep',
    door: 'geojson',
    make: () =>
      site(
        `{"type":"Feature","properties":{},"geometry":${'{"type":"GeometryCollection","geometries":['.repeat(30)}${']}'.repeat(30)}}`,
      ),
  },
  {
    name: 'parts nested a million deep',
    door: 'parts-json',
    make: () =>
      `{"format":"rillsheet-parts","version":1,"parts":[${'['.repeat(1_000_000)}${']'.repeat(1_000_000)}]}`,
  },
  { name: 'seventy million characters of one text', door: 'plan', make: () => `"${'x'.repeat(70_000_000)}"` },
  { name: 'sixty million blanks', door: 'plan', make: () => ' '.repeat(60_000_000) },
  { name: 'ten million numbers', door: 'plan', make: () => planWith(`"beds":[${'1,'.repeat(10_000_000)}1]`) },
  {
    name: 'a million keys',
    door: 'plan',
    make: () => planWith(many(1_000_000, (n) => `"k${n}":0,`).concat('"z":0')),
  },
  {
    name: 'a million beds that are none',
    door: 'plan',
    make: () => planWith(`"beds":{${many(1_000_000, (n) => `"b${n}":1,`)}"z":1}`),
  },
  {
    name: 'half a million features',
    door: 'geojson',
    make: () => site(many(500_000, () => '{},').concat('{}')),
  },
  {
    name: 'a hundred thousand beds',
    door: 'geojson',
    make: () => site(Array.from({ length: 100_000 }, () => bedOf(SQUARE)).join(',')),
    mayBeTaken: true,
  },
  {
    name: 'a ring of two million corners',
    door: 'geojson',
    make: () => site(bedOf(`[[${many(2_000_000, (n) => `[${n % 97},${n % 89}],`)}[0,0]]]`)),
  },
  {
    name: 'a million holes',
    door: 'geojson',
    make: () => site(bedOf(`[${many(1_000_000, () => '[[0,0],[1,0],[1,1]],')}[[0,0],[1,0],[1,1]]]`)),
  },
  {
    name: 'an infinite corner',
    door: 'geojson',
    make: () => site(bedOf(SQUARE.replace('[4,0]', '[1e999,0]'))),
  },
  {
    name: 'a key into the prototype',
    door: 'geojson',
    make: () => site(bedOf(SQUARE), ',"__proto__":{"polluted":true}'),
  },
  {
    name: 'a key into the prototype among properties',
    door: 'geojson',
    make: () => site(bedOf(SQUARE, ',"__proto__":{"polluted":true}')),
  },
  {
    name: 'a key into the constructor',
    door: 'geojson',
    make: () => site(bedOf(SQUARE, ',"constructor":{"prototype":{"polluted":true}}')),
  },
  {
    name: 'a key into the prototype of a plan',
    door: 'plan',
    make: () => planWith('"settings":{"__proto__":{"polluted":1}}'),
  },
  {
    name: 'a key into the prototype of a part',
    door: 'parts-json',
    make: () =>
      '{"format":"rillsheet-parts","version":1,"parts":[{"__proto__":{"polluted":true},"kind":"fitting","id":"a"}]}',
  },
  {
    name: 'a column into the prototype',
    door: 'parts-csv',
    make: () => 'kind,id,__proto__.polluted,constructor.prototype.polluted\nfitting,a,true,true\n',
  },
  {
    name: 'ids that are names of the language',
    door: 'points',
    make: () =>
      `name,x,y,bed\n${['__proto__', 'constructor', 'toString'].map((name, n) => `${name},${n},0,${name}\n`).join('')}`,
    mayBeTaken: true,
  },
  {
    name: 'an unknown kind with a huge body',
    door: 'geojson',
    make: () =>
      site(
        `${bedOf(SQUARE)},${bedOf(SQUARE, `,"a":"${'y'.repeat(5_000_000)}"`).replace('"bed"', '"gazebo"')}`,
      ),
    mayBeTaken: true,
  },
  {
    name: 'a million lines',
    door: 'dxf',
    make: () => drawing(`2\nENTITIES\n${many(1_000_000, line)}`).slice(0, 24_000_000),
  },
  {
    name: 'half a million lines, whole',
    door: 'dxf',
    make: () => drawing(`2\nENTITIES\n${many(500_000, line)}`),
  },
  {
    name: 'millions of empty records',
    door: 'dxf',
    make: () => drawing(`2\nENTITIES\n${'0\nX\n'.repeat(7_000_000)}`),
  },
  {
    name: 'millions of codes in one record',
    door: 'dxf',
    make: () => drawing(`2\nENTITIES\n0\nLWPOLYLINE\n${'10\n1\n20\n1\n'.repeat(2_500_000)}`),
  },
  {
    name: 'a block that holds itself',
    door: 'dxf',
    make: () =>
      drawing(
        `2\nBLOCKS\n${block('A', insert('A') + insert('A'))}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${insert('A')}${line(1)}`,
      ),
    mayBeTaken: true,
  },
  {
    name: 'two blocks that hold each other many times',
    door: 'dxf',
    make: () =>
      drawing(
        `2\nBLOCKS\n${block('A', insert('B', 100, 100))}${block('B', insert('A', 100, 100))}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${insert('A', 100, 100)}`,
      ),
  },
  {
    name: 'ten blocks, ten of the next in each',
    door: 'dxf',
    make: () =>
      drawing(
        `2\nBLOCKS\n${many(10, (n) => block(`B${n}`, n === 9 ? line(1) : many(10, () => insert(`B${n + 1}`))))}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${insert('B0')}`,
      ),
  },
  {
    name: 'an insert a billion times over of nothing',
    door: 'dxf',
    make: () =>
      drawing(
        `2\nBLOCKS\n${block('A', '')}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${insert('A', 30_000, 30_000)}${line(1)}`,
      ),
    mayBeTaken: true,
  },
  {
    name: 'a circle as wide as a planet',
    door: 'dxf',
    make: () => drawing('2\nENTITIES\n0\nCIRCLE\n8\nBED\n10\n0\n20\n0\n40\n9e99\n'),
  },
  {
    name: 'bulges without end',
    door: 'dxf',
    make: () =>
      drawing(
        `2\nENTITIES\n0\nLWPOLYLINE\n8\nBED\n70\n1\n${many(20_000, (n) => `10\n${n}\n20\n0\n42\n1e9\n`)}`,
      ),
    mayBeTaken: true,
  },
  {
    name: 'a line of ten million characters',
    door: 'dxf',
    make: () => drawing(`2\nENTITIES\n0\nTEXT\n1\n${'x'.repeat(10_000_000)}\n`),
  },
  {
    name: 'one cell of four million characters',
    door: 'points',
    make: () => `name,x,y\n"${'x'.repeat(4_000_000)}",1,2\n2,3,4\n`,
    mayBeTaken: true,
  },
  {
    name: 'a quote never closed over four million characters',
    door: 'points',
    make: () => `name,x,y\n"${'1,2\n'.repeat(1_000_000)}`,
  },
  {
    name: 'two million columns',
    door: 'points',
    make: () => `name,x,y${',c'.repeat(2_000_000)}\n1,2,3\n`,
    mayBeTaken: true,
  },
  { name: 'a million short rows', door: 'points', make: () => `x,y\n${'1,2\n'.repeat(1_200_000)}` },
  {
    name: 'fifty thousand points of one bed',
    door: 'points',
    make: () => `x,y,bed\n${many(50_000, (n) => `${n % 300},${n % 200},a\n`)}`,
    mayBeTaken: true,
  },
  {
    name: 'fifty thousand bad rows',
    door: 'points',
    make: () => `x,y\n${'a,b\n'.repeat(49_999)}1,2\n`,
    mayBeTaken: true,
  },
  {
    name: 'half a million columns of a parts table',
    door: 'parts-csv',
    make: () => `kind,id${',a.b.c'.repeat(400_000)}\nfitting,a${',1'.repeat(400_000)}\n`,
  },
  {
    name: 'a third of a million part rows',
    door: 'parts-csv',
    make: () => `kind,id\n${'fitting,a\n'.repeat(350_000)}`,
  },
  { name: 'three million separators', door: 'parts-csv', make: () => `kind,id\n${','.repeat(7_000_000)}` },
  {
    name: 'a quarter of a million junctions',
    door: 'inp',
    make: () => `[JUNCTIONS]\n${many(250_000, (n) => `j${n} 0 0\n`)}[END]\n`,
    mayBeTaken: true,
  },
  { name: 'half a million empty sections', door: 'inp', make: () => '[PIPES]\n'.repeat(490_000) },
  {
    name: 'a line of two million words',
    door: 'inp',
    make: () => `[PIPES]\n${'a '.repeat(1_900_000)}\n[END]\n`,
  },
  {
    name: 'names of the language in a network',
    door: 'inp',
    make: () =>
      '[JUNCTIONS]\n__proto__ 0 1\nconstructor 0 1\n[RESERVOIRS]\ntoString 10\n[PIPES]\nhasOwnProperty toString __proto__ 10 20 100 0 Open\nvalueOf __proto__ constructor 10 20 100 0 Open\n[END]\n',
    mayBeTaken: true,
  },
  { name: 'a picture that says 60,000 x 60,000', door: 'png', make: () => png(60_000, 60_000) },
  { name: 'a picture that says 4 billion x 1', door: 'png', make: () => png(4_294_967_295, 1) },
  { name: 'a picture without a pixel', door: 'png', make: () => png(0, 100) },
  {
    name: 'a chunk longer than the file',
    door: 'png',
    make: () => png(10, 10).replace('IDAT', 'ZZZZ').replace(u32(1), u32(0xfffffff0)),
  },
  {
    name: 'a million empty chunks',
    door: 'png',
    make: () => png(10, 10, chunk('tEXt', '').repeat(1_000_000)),
    mayBeTaken: true,
  },
  { name: 'a photograph that says 65,500 x 65,500', door: 'jpeg', make: () => jpeg(65_500, 65_500) },
  { name: 'a photograph of ten thousand passes', door: 'jpeg', make: () => jpeg(5000, 5000, 10_000) },
  {
    name: 'a photograph of marks alone',
    door: 'jpeg',
    make: () => `\xff\xd8${'\xff\xd0'.repeat(5_000_000)}`,
  },
  {
    name: 'a vector picture in place of a photograph',
    door: 'png',
    make: () =>
      '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><svg onload="alert(1)">&b;</svg>',
  },
  { name: 'an archive in place of a picture', door: 'png', make: () => `PK\x03\x04${'\0'.repeat(1000)}` },
  { name: 'an archive in place of a plan', door: 'plan', make: () => `\x1f\x8b${'\0'.repeat(1_000_000)}` },
  {
    name: 'a PDF in place of a picture',
    door: 'jpeg',
    make: () => '%PDF-1.7\n1 0 obj\n<</JS (app.alert(1))>>\nendobj\n',
  },
  {
    name: 'a thirty-megabyte picture',
    door: 'png',
    make: () => png(100, 100, chunk('tEXt', 'x'.repeat(30_000_000))),
  },
];
