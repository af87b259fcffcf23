import { OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** The operators of a page as the second library reads them. */
export interface PageOperators {
  readonly fnArray: readonly number[];
  readonly argsArray: readonly unknown[];
}

/** How light an ink is, 0 black to 255 white. */
export const brightness = (hex: string): number =>
  [1, 3, 5].reduce((sum, at) => sum + Number.parseInt(hex.slice(at, at + 2), 16), 0) / 3;

/** Inks lighter than this are the paper, grounds and washes, which lettering may stand on. */
export const GROUND_BRIGHTNESS = 190;

const PAINTS: ReadonlySet<number> = new Set([
  OPS.constructPath,
  OPS.paintImageXObject,
  OPS.paintInlineImageXObject,
  OPS.shadingFill,
]);

/**
 * Marked stretches of a page, counted from 0 in their order, that hold only what lies under the page: lettering in an
 * ink as pale as a ground, written before anything else is printed. Pale lettering that comes later lies over
 * something; dark lettering hides what it lies under as well: neither is an underlay, whatever it says.
 */
export function underlaidStretches(page: PageOperators): ReadonlySet<number> {
  const found = new Set<number>();
  let [stretch, isOpen, ink] = [-1, false, '#000000'];
  for (let i = 0; i < page.fnArray.length; i++) {
    const fn = page.fnArray[i]!;
    if (fn === OPS.beginMarkedContent || fn === OPS.beginMarkedContentProps)
      [stretch, isOpen] = [stretch + 1, true];
    else if (fn === OPS.endMarkedContent) isOpen = false;
    else if (fn === OPS.setFillRGBColor) ink = String((page.argsArray[i] as readonly unknown[])[0]);
    else if (fn === OPS.showText && isOpen && brightness(ink) >= GROUND_BRIGHTNESS) found.add(stretch);
    else if (fn === OPS.showText || PAINTS.has(fn)) {
      if (isOpen) found.delete(stretch);
      break;
    }
  }
  return found;
}
