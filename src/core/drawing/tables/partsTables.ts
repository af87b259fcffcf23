import type { Design } from '../../design';
import { labourSource, type TakeoffLine } from '../../takeoff';
import type { Printer } from '../../units';
import { starOf, TASK_NAMES, sheetText as words } from '../../words';
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

/** What to buy, and what it costs where the designer's parts file holds prices. */
export function takeoffBlock(design: Design, print: Printer): Block {
  const bought = new Set(design.takeoff.lines.map(({ part }) => part));
  const isStarred = design.catalog.driplines.some(
    ({ id, source }) => bought.has(id) && starOf(source) !== '',
  );
  const { cost } = design.takeoff;
  const priced = (price: number | null): readonly string[] =>
    cost === null ? [] : [price === null ? '' : price.toFixed(2)];
  const notes = [...(isStarred ? [words.starNote] : []), ...(cost === null ? [] : [words.priceNote])];
  return tableBlock({
    key: 'takeoff',
    title: words.tables.takeoff,
    columns: [
      { title: words.heads.part },
      { title: words.heads.quantity, align: 'end' },
      ...(cost === null ? [] : [{ title: words.heads.price, align: 'end' as const }]),
    ],
    rows: [
      ...design.takeoff.lines.map((line) => {
        const dripline = design.catalog.driplines.find((part) => part.id === line.part);
        const description = dripline
          ? words.driplineLine(
              line.description,
              print.emitterFlow(dripline.emitterFlowM3s),
              print.small(dripline.emitterSpacingM),
            )
          : line.description;
        return [
          `${description}${dripline ? starOf(dripline.source) : ''}`,
          quantityText(line, print),
          ...priced(line.price),
        ];
      }),
      ...(cost === null ? [] : [[words.priceTotal, '', cost.toFixed(2)]]),
    ],
    foot: notes.join(' '),
  });
}

/** Hours by task. */
export function labourBlock(design: Design): Block {
  const { settings } = design.plan;
  const { labour } = design.takeoff;
  const isStarred = labour.some(({ task }) => starOf(labourSource(task, settings)) !== '');
  return tableBlock({
    key: 'labour',
    title: words.tables.labour,
    columns: [{ title: words.heads.task }, { title: words.heads.hours, align: 'end' }],
    rows: [
      ...labour.map((row) => [
        TASK_NAMES[row.task] ?? row.task,
        `${row.hours.toFixed(1)}${starOf(labourSource(row.task, settings))}`,
      ]),
      ['', design.takeoff.labourHours.toFixed(1)],
    ],
    foot: isStarred ? words.starNote : '',
  });
}
