import type { Place } from '../../units';

/** One line of data: its words and where it stands. */
export interface DataLine {
  readonly words: readonly string[];
  readonly where: Place;
}

/** Sections of a network file by their full name, in upper case, without brackets. */
export type Sections = ReadonlyMap<string, readonly DataLine[]>;

/** Names are recognised by their first four letters, as EPANET does. Source: EPANET 2.2 user manual, appendix C. */
const SECTION_NAMES = [
  'TITLE',
  'JUNCTIONS',
  'RESERVOIRS',
  'TANKS',
  'PIPES',
  'PUMPS',
  'VALVES',
  'EMITTERS',
  'CURVES',
  'PATTERNS',
  'DEMANDS',
  'STATUS',
  'CONTROLS',
  'RULES',
  'ENERGY',
  'QUALITY',
  'REACTIONS',
  'SOURCES',
  'MIXING',
  'LEAKAGE',
  'OPTIONS',
  'TIMES',
  'REPORT',
  'COORDINATES',
  'VERTICES',
  'LABELS',
  'BACKDROP',
  'TAGS',
  'END',
] as const;

/** Splits a network file into its sections; `unknown` lists headings that mean nothing. Comments begin at a semicolon. */
export function splitSections(
  text: string,
  fileName: string,
): { readonly sections: Sections; readonly unknown: readonly DataLine[] } {
  const sections = new Map<string, DataLine[]>();
  const unknown: DataLine[] = [];
  let current: DataLine[] | null = null;
  text.split(/\r\n|\r|\n/).forEach((raw, i) => {
    const where = { file: fileName, line: i + 1 };
    const content = raw.split(';', 1)[0]!.trim();
    if (content === '') return;
    const words = content.split(/\s+/);
    if (!content.startsWith('[')) {
      current?.push({ words, where });
      return;
    }
    const wanted = content.slice(1, 5).toUpperCase();
    const name = SECTION_NAMES.find((candidate) =>
      wanted.startsWith('END') ? candidate === 'END' : candidate.startsWith(wanted),
    );
    if (name === undefined) {
      unknown.push({ words, where });
      current = null;
      return;
    }
    current = sections.get(name) ?? [];
    sections.set(name, current);
  });
  return { sections, unknown };
}
