import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { mergeParts, readPartsFile, typicalCatalog } from '../../../src/core/catalog';
import { sentenceOf } from '../../../src/core/words';

const example = readFileSync(new URL('../../../assets/schema/examples/parts.json', import.meta.url), 'utf8');
const table = [
  'kind,id,name,use,lossK,packOf,order.partNumber,order.price',
  'fitting,staple,"Tubing staple, 8 in",staple,0,250,0042,19.5',
  'fitting,end-clamp,End clamp,end-cap,0,10,,',
].join('\n');
const fileWith = (changes: object): string => {
  const document = JSON.parse(example);
  Object.assign(document.parts[0], changes);
  return JSON.stringify(document);
};
const codesOf = (text: string, format: 'json' | 'csv' = 'json') => {
  const read = readPartsFile(text, format, 'own');
  expect(read.ok).toBe(false);
  for (const { code } of read.problems) expect(sentenceOf(code), code).not.toBeNull();
  return read.problems.map(({ code, where }) => `${code} ${where.path ?? where.line ?? ''}`.trim());
};

describe("the user's own parts", () => {
  it('are read from JSON, marked as their own, and take the place of the typical part of the same id', () => {
    const read = readPartsFile(example, 'json');
    expect(read.problems).toEqual([]);
    const catalog = mergeParts(typicalCatalog, read.ok ? read.value : []);
    expect(catalog.driplines).toHaveLength(typicalCatalog.driplines.length + 1);
    expect(catalog.driplines.at(-1)?.source.standing).toBe('user');
    expect(catalog.fittings).toHaveLength(typicalCatalog.fittings.length);
    expect(catalog.fittings.find(({ id }) => id === 'staple')?.packOf).toBe(250);
    expect(typicalCatalog.fittings.find(({ id }) => id === 'staple')?.packOf).toBe(100);
    expect(catalog.pipes).toBe(typicalCatalog.pipes);
  });

  it('are read from a table, part numbers keeping their noughts and empty cells left out', () => {
    const read = readPartsFile(table, 'csv');
    expect(read.problems).toEqual([]);
    expect(read.ok && read.value.map(({ id, order }) => [id, order])).toEqual([
      ['staple', { partNumber: '0042', price: 19.5 }],
      ['end-clamp', undefined],
    ]);
  });

  it('are refused whole with every fault named at its place', () => {
    expect(codesOf(fileWith({ insideDiameterM: -1, emitterSpacing: 0.3 }))).toEqual([
      'catalog.bad-part parts[0].insideDiameterM',
      'catalog.unknown-figure parts[0]',
    ]);
    expect(codesOf(example.replace('my-dripline-0.5gph-12in', 'staple'))).toEqual([
      'catalog.same-id parts[1]',
    ]);
    expect(codesOf(`${table}\nfitting,clip,Clip,staple,much,1,,`, 'csv')).toEqual(['catalog.bad-part lossK']);
  });

  it('are refused by name where a column holds a value and is a group of columns as well', () => {
    const both = ['kind,id,name,use,lossK,order,order.price', 'fitting,staple,Staple,staple,0,S-8,19.5'].join(
      '\n',
    );
    expect(codesOf(both, 'csv').length).toBeGreaterThan(0);
  });

  it('are refused where the file is something else', () => {
    expect(codesOf('{"parts": [')).toEqual(['catalog.parts-not-json']);
    expect(codesOf('[]')).toEqual(['catalog.not-a-parts-file']);
    expect(codesOf('a,b\n1,2', 'csv')).toEqual(['catalog.not-a-parts-file']);
    expect(codesOf('kind,id\n"fitting,x', 'csv')).toEqual(['catalog.parts-not-a-table 2']);
    expect(codesOf(' '.repeat(8_000_001))).toEqual(['catalog.parts-too-large']);
  });
});
