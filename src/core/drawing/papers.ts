import type { Plan } from '../plan';

/** The papers a sheet may be printed on. */
export type PaperKey = NonNullable<Plan['display']['paper']>;

/** One paper, lying: width is the long side. */
export interface Paper {
  readonly key: PaperKey;
  /** What the title block calls it. */
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

const inches = (n: number): number => n * 25.4;

/** ISO 216 sizes; ANSI/ASME Y14.1 letter and tabloid; architectural C and D (ANSI/ASME Y14.1). */
export const PAPERS: Readonly<Record<PaperKey, Paper>> = {
  letter: { key: 'letter', name: '8½ × 11 in', widthMm: inches(11), heightMm: inches(8.5) },
  tabloid: { key: 'tabloid', name: '11 × 17 in', widthMm: inches(17), heightMm: inches(11) },
  'arch-c': { key: 'arch-c', name: '18 × 24 in', widthMm: inches(24), heightMm: inches(18) },
  'arch-d': { key: 'arch-d', name: '24 × 36 in', widthMm: inches(36), heightMm: inches(24) },
  a4: { key: 'a4', name: 'A4', widthMm: 297, heightMm: 210 },
  a3: { key: 'a3', name: 'A3', widthMm: 420, heightMm: 297 },
  a2: { key: 'a2', name: 'A2', widthMm: 594, heightMm: 420 },
  a1: { key: 'a1', name: 'A1', widthMm: 841, heightMm: 594 },
};

/** The paper used when none is chosen: what a small office printer and a truck's dashboard hold. */
export const usualPaper = (units: 'us' | 'metric'): PaperKey => (units === 'us' ? 'tabloid' : 'a3');
