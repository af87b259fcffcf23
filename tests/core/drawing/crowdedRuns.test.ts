import { expect, test } from 'vitest';
import { type DrawingItem, type DrawingPage, drawSheetSet, measureOverlaps } from '../../../src/core/drawing';
import { markedRunsOf } from '../../../src/core/layout';
import { bedDesign } from '../../render/designs';

const flat = (items: readonly DrawingItem[]): readonly DrawingItem[] =>
  items.flatMap((item) => (item.kind === 'clip' ? flat(item.items) : [item]));
const itemsOf = (page: DrawingPage): readonly DrawingItem[] => flat(page.items);

// 29 loops on a quarter of an acre; rows 18.5 in apart are 1.96 mm apart at 1" = 20', a loop's two rows 3.9 mm.
const design = bedDesign('20-big10000sqft.geojson');
const runs = design.beds.flatMap((bed) =>
  markedRunsOf(bed.layout, bed.mark).map(({ run, mark }) => ({ run, mark })),
);
const plansAt = (scaleDenominator: number): readonly DrawingPage[] =>
  drawSheetSet(design, { paper: 'tabloid', scaleDenominator, include: ['plan'] }).pages;

const isInRow = (item: DrawingItem): boolean => item.group?.startsWith('row-mark:') ?? false;

/** Marks lettered as a run's own: on a flag at its start, or set into its row. */
const runMarksOn = (page: DrawingPage): readonly string[] =>
  itemsOf(page).flatMap((item) =>
    item.kind === 'text' && (item.group?.startsWith('label:flag-') || isInRow(item)) ? [item.text] : [],
  );

test('where runs crowd, every run still carries its mark, clear of all else, and no note is left to the tables', () => {
  const [page] = plansAt(240);
  expect([...new Set(runMarksOn(page!))].sort()).toEqual(runs.map(({ mark }) => mark).sort());
  expect(measureOverlaps(page!)).toEqual({ textOnText: [], textOnLine: [], textOffPage: [] });
  const texts = itemsOf(page!).flatMap((item) => (item.kind === 'text' ? [item.text] : []));
  expect(texts.filter((text) => text.includes('found no clear paper'))).toEqual([]);
});

test('a flush valve without room for its mark has it in its own row, nearer than half the row', () => {
  const [page] = plansAt(240);
  const items = itemsOf(page!);
  const centreOf = (id: string): { x: number; y: number } => {
    const points = items.flatMap((item) =>
      item.kind === 'path' && item.of === id
        ? item.steps.flatMap((s) => (s[0] === 'Z' ? [] : [[s.at(-2), s.at(-1)] as [number, number]]))
        : [],
    );
    return {
      x: points.reduce((sum, [x]) => sum + x, 0) / points.length,
      y: points.reduce((sum, [, y]) => sum + y, 0) / points.length,
    };
  };
  const valves = design.supply.zones.flatMap((zone) => zone.devices).filter((d) => d.kind === 'flush-valve');
  const lettered = new Set(
    items.flatMap((item) =>
      item.kind === 'text' && item.group?.startsWith('label:device-') ? [item.of] : [],
    ),
  );
  const bare = valves.filter((valve) => !lettered.has(valve.id));
  expect(bare.length).toBeGreaterThan(0);
  for (const valve of bare) {
    const join = design.beds
      .flatMap((bed) => bed.layout.joins)
      .find((one) => Math.hypot(one.x - valve.at.x, one.y - valve.at.y) < 0.01)!;
    const { run, mark } = runs.find((one) => join.runIds.includes(one.run.id))!;
    const at = centreOf(valve.id);
    const away = items.flatMap((item) =>
      item.kind === 'text' && isInRow(item) && item.of === run.id && item.text === mark
        ? [Math.hypot(item.at.x - at.x, item.at.y - at.y)]
        : [],
    );
    // A quarter of the loop's length on paper is half of one of its two rows.
    expect(Math.min(...away)).toBeLessThan((run.lengthM * 1000) / 240 / 4);
  }
});

test('where runs crowd, no leader of a mark is longer than 14 mm', () => {
  const [page] = plansAt(240);
  const leaders = itemsOf(page!).flatMap((item) => {
    if (item.kind !== 'path' || !item.group?.startsWith('label:flag-') || item.fill) return [];
    const [a, b] = item.steps;
    return a?.[0] === 'M' && b?.[0] === 'L' && item.steps.length === 2
      ? [Math.hypot(a[1] - b[1], a[2] - b[2])]
      : [];
  });
  expect(leaders.length).toBeGreaterThan(10);
  // A reach of 12 mm to the nearest side of the flag, and 2 mm to the place on that side where it ends.
  expect(Math.max(...leaders)).toBeLessThan(14);
});

test('a mark set into its row leaves that row open under it, and says so in the legend', () => {
  for (const page of plansAt(120)) {
    const items = itemsOf(page);
    const opened = items.filter(
      (item) =>
        item.kind === 'path' && item.layer === 'tubing' && item.steps.filter((s) => s[0] === 'M').length > 1,
    );
    expect(opened.length).toBeGreaterThan(0);
    for (const row of opened) {
      const pieces = row.kind === 'path' ? row.steps.filter((step) => step[0] === 'M').length : 0;
      expect(items.filter((item) => isInRow(item) && item.of === row.of)).toHaveLength(pieces - 1);
    }
    const texts = items.flatMap((item) => (item.kind === 'text' ? [item.text] : []));
    expect(texts.join(' ')).toContain('A run mark set into its row hides the ticks there');
  }
});

test('a run that crosses a match line carries its mark on both sheets', () => {
  const pages = plansAt(120);
  expect(pages.length).toBeGreaterThan(1);
  const shown = new Map<string, number>();
  for (const page of pages)
    for (const mark of new Set(runMarksOn(page))) shown.set(mark, (shown.get(mark) ?? 0) + 1);
  expect([...shown.keys()].sort()).toEqual(runs.map(({ mark }) => mark).sort());
  // Loops of this bed run along its 190 ft; a tabloid sheet at 1" = 10' shows less than 140 ft of them.
  expect([...shown.values()].filter((sheets) => sheets > 1).length).toBeGreaterThan(8);
  for (const page of pages)
    expect(measureOverlaps(page)).toEqual({ textOnText: [], textOnLine: [], textOffPage: [] });
});
