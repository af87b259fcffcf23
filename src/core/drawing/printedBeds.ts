import type { Design, DesignedBed } from '../design';
import { drawingWords as words } from '../words';
import { printable } from './text';

/** Longest name of a bed that a heading or a column takes, characters. Chosen by trial on the narrowest strip, no outside source. */
const LONGEST_NAME = 44;

function printedName({ name, mark }: DesignedBed): string {
  if (name === '') return name;
  const letters = [...printable(name)];
  if (!letters.some((letter) => /[\p{L}\p{N}]/u.test(letter))) return words.bedOf(mark);
  return letters.length <= LONGEST_NAME
    ? name
    : `${letters
        .slice(0, LONGEST_NAME - 1)
        .join('')
        .trimEnd()}…`;
}

const known = new WeakMap<Design, Design>();

/**
 * The design with its beds' names as a sheet can print them: one that the face has no letter of gives way to the bed's mark, one
 * that would run over its column is cut. The very design where no name has to change.
 */
export function withPrintedBeds(design: Design): Design {
  const before = known.get(design);
  if (before) return before;
  const beds = design.beds.map((bed) => {
    const name = printedName(bed);
    return name === bed.name ? bed : { ...bed, name };
  });
  const printed = beds.every((bed, i) => bed === design.beds[i]) ? design : { ...design, beds };
  known.set(design, printed);
  return printed;
}
