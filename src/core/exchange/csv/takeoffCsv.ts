import type { Design } from '../../design';
import { supplierOrder } from '../../takeoff';
import { METRES_PER_FOOT } from '../../units';
import { saySource } from '../../words';
import { type Cell, csvText } from './text';

const rounded = (value: number, digits: number): number => Number(value.toFixed(digits)) + 0;
const blankIfNone = (value: number | null | undefined, digits: number): Cell =>
  value === null || value === undefined ? '' : rounded(value, digits);

/** Lengths of the table in the plan's own units, with the unit for its heading. */
function lengthColumn(design: Design): { readonly unit: 'ft' | 'm'; readonly of: (m: number) => number } {
  return design.plan.display.units === 'us'
    ? { unit: 'ft', of: (m) => m / METRES_PER_FOOT }
    : { unit: 'm', of: (m) => m };
}

/** Where the figures of a part are from, in words; empty for what is not in the catalogue. */
function standingOf({ catalog }: Design, partId: string): string {
  const parts = [
    ...catalog.driplines,
    ...catalog.pipes,
    ...catalog.assemblies,
    ...catalog.meters,
    ...catalog.backflows,
    ...catalog.fittings,
  ];
  const part = parts.find(({ id }) => id === partId);
  return part ? saySource(part.source) : '';
}

/** `takeoff.csv`: parts to buy, one line a part and size. Lengths in the plan's units, named in the headings. */
export function takeoffCsv(design: Design): string {
  const length = lengthColumn(design);
  const rows = design.takeoff.lines.map((line): readonly Cell[] => [
    line.part,
    line.description,
    line.unit === 'm' ? rounded(length.of(line.quantity), 1) : rounded(line.quantity, 2),
    line.unit === 'm' ? length.unit : line.unit,
    line.eachM === undefined ? '' : rounded(length.of(line.eachM), 2),
    line.packs?.count ?? '',
    line.packs?.packOf ?? '',
    blankIfNone(line.price, 2),
    standingOf(design, line.part),
    line.from.join(' '),
  ]);
  return csvText([
    [
      'part',
      'description',
      'quantity',
      'unit',
      `length of each, ${length.unit}`,
      'packs',
      'pieces in a pack',
      'price',
      'figures of the part',
      'counted from',
    ],
    ...rows,
  ]);
}

/** `cuts.csv`: which piece of which roll lays which stretch of which run, in the order the rolls are numbered. */
export function cutsCsv(design: Design): string {
  const { unit, of } = lengthColumn(design);
  const markOf = new Map(
    design.beds.flatMap((bed) => bed.layout.runs.map((run) => [run.id, bed.mark] as const)),
  );
  const rows = design.takeoff.cuts.map((cut): readonly Cell[] => [
    cut.rollNumber,
    rounded(of(cut.rollLengthM), 2),
    cut.driplineId,
    markOf.get(cut.runId) ?? '',
    cut.runId,
    rounded(of(cut.fromM), 2),
    rounded(of(cut.toM), 2),
    rounded(of(cut.lengthM), 2),
    cut.spliceAtEnd ? 'splice' : '',
  ]);
  return csvText([
    [
      'roll',
      `roll length, ${unit}`,
      'tubing',
      'bed',
      'run',
      `from, ${unit}`,
      `to, ${unit}`,
      `cut, ${unit}`,
      'at the end',
    ],
    ...rows,
  ]);
}

/** `order.csv`: the supplier's order; part number, size and thread are the user's own and blank until filled in. */
export function orderCsv(design: Design): string {
  const { unit, of } = lengthColumn(design);
  const rows = supplierOrder(design.takeoff, design.catalog).map((row): readonly Cell[] => [
    row.partNumber,
    row.description,
    row.size,
    row.thread,
    row.unit === 'm' ? Math.ceil(of(row.quantity)) : row.quantity,
    row.unit === 'm' ? unit : row.unit,
    row.eachM === null ? '' : rounded(of(row.eachM), 2),
    row.packOf ?? '',
    blankIfNone(row.price, 2),
    row.part,
  ]);
  return csvText([
    [
      'part number',
      'description',
      'size',
      'thread',
      'quantity',
      'unit',
      `length of each, ${unit}`,
      'pieces in a pack',
      'price',
      'typical part',
    ],
    ...rows,
  ]);
}
