import type { Part } from './blocks';
import { lineItem, SIZE, stroke, textItem, WEIGHT } from './pen';

const MARK = { layer: 'tables' };

/** Lines to sign or fill in beside each other, each with its name below. */
export function signPart(names: readonly string[], widthMm: number): Part {
  return {
    heightMm: 9.6,
    draw: (x, y) =>
      names.flatMap((name, i) => {
        const wide = widthMm / names.length;
        const right = x + (i + 1) * wide - (i < names.length - 1 ? 3 : 0);
        return [
          lineItem(
            MARK,
            { x: x + i * wide, y: y + 6.1 },
            { x: right, y: y + 6.1 },
            stroke('ink', WEIGHT.hair),
          ),
          textItem(MARK, { x: x + i * wide, y: y + 8.6 }, name, { sizeMm: SIZE.small, ink: 'ink-2' }),
        ];
      }),
  };
}
