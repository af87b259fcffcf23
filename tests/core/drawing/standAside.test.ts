import { expect, test } from 'vitest';
import { type DrawingItem, drawSheetSet } from '../../../src/core/drawing';
import { bedDesign } from '../../render/designs';

const flat = (items: readonly DrawingItem[]): readonly DrawingItem[] =>
  items.flatMap((item) => (item.kind === 'clip' ? flat(item.items) : [item]));

interface Spread {
  readonly x: number;
  readonly y: number;
  readonly reachMm: number;
}

/** Middle of what some items print, and how far it reaches from there. */
function spreadOf(items: readonly DrawingItem[]): Spread {
  const points = items.flatMap((item) =>
    item.kind === 'path'
      ? item.steps.flatMap((s) =>
          s[0] === 'Z' ? [] : [[s[s.length - 2], s[s.length - 1]] as [number, number]],
        )
      : [],
  );
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2, reachMm: Math.max(maxX - minX, maxY - minY) / 2 };
}

test.each(['03-L.geojson', '25-taper.geojson'])(
  'the air relief at the stub-up of %s stands beside it, tied to its place by a line',
  (fileName) => {
    const design = bedDesign(fileName);
    const [page] = drawSheetSet(design, { paper: 'tabloid', include: ['plan'] }).pages;
    const items = flat(page!.items).filter((item) => item.layer === 'devices');
    const bed = design.beds[0]!;
    const relief = design.supply.zones.flatMap((z) => z.devices).find((d) => d.kind === 'air-relief')!;
    expect(Math.hypot(relief.at.x - bed.layout.stubUp.x, relief.at.y - bed.layout.stubUp.y)).toBeLessThan(
      0.2,
    );
    const stubUp = spreadOf(items.filter((item) => item.of === bed.id && item.group?.startsWith('symbol:')));
    const own = items.filter((item) => item.of === relief.id);
    const symbol = spreadOf(own.filter((item) => item.group?.startsWith('symbol:')));
    expect(Math.hypot(symbol.x - stubUp.x, symbol.y - stubUp.y)).toBeGreaterThan(3.2);
    const tie = own.find((item) => item.group === undefined);
    expect(tie?.kind === 'path' && tie.steps.length).toBe(2);
  },
);
