import type { Design } from '../../design';
import type { TakeoffLine } from '../../takeoff';
import type { Printer } from '../../units';
import { TASK_NAMES, sheetText as words } from '../../words';
import type { Block } from '../blocks';
import { tableBlock } from '../table';

/** A quantity with what is bought for it: "574.9 ft", "493: 5 × 100", "3 × 500.0 ft". */
export function quantityText(line: TakeoffLine, print: Printer): string {
  if (line.eachM !== undefined && line.unit !== 'm')
    return words.rollsOf(line.quantity, print.tubing(line.eachM));
  if (line.unit === 'm') return print.tubing(line.quantity);
  const count = String(Number(line.quantity.toFixed(2)));
  return line.packs && line.packs.packOf > 1
    ? words.packs(count, line.packs.count, line.packs.packOf)
    : count;
}

/** What to buy. */
export function takeoffBlock(design: Design, print: Printer): Block {
  return tableBlock({
    key: 'takeoff',
    title: words.tables.takeoff,
    columns: [{ title: words.heads.part }, { title: words.heads.quantity, align: 'end' }],
    rows: design.takeoff.lines.map((line) => {
      const dripline = design.catalog.driplines.find((part) => part.id === line.part);
      const description = dripline
        ? words.driplineLine(
            line.description,
            print.emitterFlow(dripline.emitterFlowM3s),
            print.small(dripline.emitterSpacingM),
          )
        : line.description;
      return [description, quantityText(line, print)];
    }),
  });
}

/** Hours by task. */
export function labourBlock(design: Design): Block {
  return tableBlock({
    key: 'labour',
    title: words.tables.labour,
    columns: [{ title: words.heads.task }, { title: words.heads.hours, align: 'end' }],
    rows: [
      ...design.takeoff.labour.map((row) => [TASK_NAMES[row.task] ?? row.task, row.hours.toFixed(1)]),
      ['', design.takeoff.labourHours.toFixed(1)],
    ],
  });
}
