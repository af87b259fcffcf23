import { expect, test } from 'vitest';
import type { Design } from '../../../src/core/design';
import {
  type DrawingItem,
  type DrawingList,
  drawCalculations,
  drawSheetSet,
} from '../../../src/core/drawing';
import type { Problem } from '../../../src/core/units';
import { demonstrationDesign } from '../../render/designs';

/** Every text under a key that holds ids, anywhere in a value. Figures are not walked. */
function idsIn(value: unknown, found = new Set<string>()): Set<string> {
  if (value === null || typeof value !== 'object' || ArrayBuffer.isView(value)) return found;
  for (const [key, inner] of Object.entries(value)) {
    if (/(^id|Ids?)$/.test(key)) for (const id of [inner].flat()) if (typeof id === 'string') found.add(id);
    idsIn(inner, found);
  }
  return found;
}

const textsOf = (items: readonly DrawingItem[]): readonly string[] =>
  items.flatMap((item) =>
    item.kind === 'clip' ? textsOf(item.items) : item.kind === 'text' ? [item.text] : [],
  );

/** Made of parts, such as `bed-a:loop-1` or `zone-1`; a shut-off is an id as well, and a word of the trade. */
const isMade = /[:/_]|(^|-)(\d+|[a-z])(-|$)/;

/** Printed words that hold an id no person gave. */
function innerIdsOn(list: DrawingList, ids: ReadonlySet<string>): readonly string[] {
  const isInner = (word: string): boolean => isMade.test(word) && /[a-z]/.test(word) && ids.has(word);
  const wordsOf = (text: string): readonly string[] =>
    text.split(/[\s,;()]+/).map((word) => word.replace(/[.:]$/, ''));
  return list.pages.flatMap((page) => textsOf(page.items).filter((text) => wordsOf(text).some(isInner)));
}

const design = demonstrationDesign();
const ids = idsIn(design);

/** Findings that tell of places only the program has a name for. */
const innerFindings = (): readonly Problem[] => {
  const run = design.beds[0]!.layout.runs[0]!.id;
  const zone = design.supply.zones[0]!;
  const node = zone.network.nodes[3]!.id;
  const stop = { severity: 'stop' as const, where: { id: zone.id } };
  return [
    { ...stop, code: 'supply.run-not-joined', params: { run, bed: design.beds[0]!.id } },
    { ...stop, code: 'supply.flush-not-settled', params: { run } },
    { ...stop, code: 'supply.no-way-to-assembly', params: { zone: zone.id } },
    { ...stop, code: 'supply.zone-not-settled', params: { zone: zone.id, node, iterationCount: 40 } },
    {
      ...stop,
      code: 'supply.zone-refused',
      params: { zone: zone.id, issues: [`hydraulics.no-bore ${node}`, 'hydraulics.no-source'] },
    },
  ];
};

test('the ids of the demonstration are known to this test', () => {
  expect(ids.has(design.beds[0]!.layout.runs[0]!.id)).toBe(true);
  expect(ids.has(design.supply.zones[0]!.network.nodes[3]!.id)).toBe(true);
  expect(ids.size).toBeGreaterThan(1000);
});

test.each<[string, Design]>([
  ['as designed', design],
  [
    'with findings of runs, zones and nodes',
    { ...design, findings: [...design.findings, ...innerFindings()] },
  ],
])('the set and the calculations of the demonstration, %s, name nothing by an inner id', (_, shown) => {
  expect(innerIdsOn(drawCalculations(shown), ids)).toEqual([]);
  expect(
    innerIdsOn(drawSheetSet(shown, { include: ['plan', 'tables', 'commissioning', 'owner'] }), ids),
  ).toEqual([]);
});

test('a finding names a run by its mark and a zone by its number', () => {
  const text = drawCalculations({ ...design, findings: innerFindings() })
    .pages.flatMap((page) => textsOf(page.items))
    .join(' ');
  expect(text).toContain('(run A1) is joined to nothing');
  expect(text).toContain('with the flush valve of run A1 open');
  expect(text).toContain('the valve assembly of zone 1 from the connection');
  expect(text).toContain(
    'zone 1 cannot be solved: one of its parts has no inside diameter. Nothing feeds this zone.',
  );
});
