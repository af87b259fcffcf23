import type { Ink } from '../../core/drawing';

const INKS: readonly Ink[] = [
  'ink',
  'ink-2',
  'ink-3',
  'paper',
  'leaf',
  'bed',
  'paving',
  'build',
  'rule',
  'rule-faint',
  'water',
  'water-wash',
  'stop',
  'check',
  'note',
  'ramp-1',
  'ramp-2',
  'ramp-3',
  'ramp-4',
  'ramp-5',
  'ramp-6',
];

/** The colours and the step in line weight that the canvas takes from the page's tokens. */
export interface Palette {
  readonly ink: Readonly<Record<Ink, string>>;
  /** Every line of the canvas is multiplied by this; the high-contrast look draws one step heavier. */
  readonly weightRatio: number;
  readonly hasFills: boolean;
  /** How much of a picture's strength is left: on dark paper a white sheet, however faded, would drown pale lines. */
  readonly pictureRatio: number;
}

const DARK_PICTURE_RATIO = 0.35;

/** True of a colour written #rrggbb whose channels are low. */
const isDark = (colour: string): boolean =>
  [1, 3, 5].every((at) => Number.parseInt(colour.slice(at, at + 2), 16) < 128);

/** Reads the palette that is on the page now. */
export function readPalette(): Palette {
  const style = getComputedStyle(document.documentElement);
  const read = (ink: Ink): string => style.getPropertyValue(`--${ink}`).trim() || '#000';
  const ink = Object.fromEntries(INKS.map((name) => [name, read(name)])) as Record<Ink, string>;
  const isContrast = ink.bed === ink.paper;
  return {
    ink,
    weightRatio: isContrast ? 1.4 : 1,
    hasFills: !isContrast,
    pictureRatio: isDark(ink.paper) ? DARK_PICTURE_RATIO : 1,
  };
}
