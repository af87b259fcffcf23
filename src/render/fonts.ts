import type { Font } from '../core/drawing';

/** The faces of the sheet, as TTF bytes. A face that is missing falls back to `regular`. */
export type FontBytes = Readonly<Partial<Record<Font, Uint8Array>>>;

/** File names in assets/fonts, so that each caller (window, command line, test) can read them its own way. */
export const FONT_FILES: Readonly<Record<Font, string>> = {
  regular: 'Asap_400Regular.ttf',
  italic: 'Asap_400Regular_Italic.ttf',
  semibold: 'Asap_600SemiBold.ttf',
  'semibold-italic': 'Asap_600SemiBold_Italic.ttf',
  narrow: 'AsapCondensed_400Regular.ttf',
  'narrow-italic': 'AsapCondensed_400Regular_Italic.ttf',
  'narrow-semibold': 'AsapCondensed_600SemiBold.ttf',
  'narrow-semibold-italic': 'AsapCondensed_600SemiBold_Italic.ttf',
};

interface FaceStyle {
  readonly family: string;
  readonly weight: 400 | 600;
  readonly style: 'normal' | 'italic';
}

/** Family, weight and slant of a face, for CSS and canvas. */
export function faceStyle(font: Font): FaceStyle {
  return {
    family: font.startsWith('narrow') ? 'Asap Condensed' : 'Asap',
    weight: font.includes('semibold') ? 600 : 400,
    style: font.includes('italic') ? 'italic' : 'normal',
  };
}
