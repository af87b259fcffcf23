import type { Outcome, Problem } from '../../units';
import {
  blockHead,
  type DrawingRecord,
  entityOf,
  type ParsedBlock,
  type ParsedDrawing,
  type ParsedEntity,
} from './entities';

/** Limits on a drawing from outside, checked before and while it is read. */
const MOST_CHARACTERS = 30_000_000;
const LONGEST_LINE = 10_000;

/** Begins every drawing of the format's binary form, which is not read here. */
const BINARY_MARK = 'AutoCAD Binary DXF';

function refuse(
  code: string,
  fileName: string,
  params: Problem['params'] = {},
  line?: number,
): Outcome<never> {
  const where = line === undefined ? { file: fileName } : { file: fileName, line };
  return { ok: false, problems: [{ code: `exchange.${code}`, severity: 'stop', where, params }] };
}

/**
 * Reads the text of a drawing into its parts, in one pass that never goes back, so that no broken file can hold it.
 * Fails by name where it is no drawing, too big, binary, cut short or broken.
 */
export function parseDrawing(text: string, fileName: string): Outcome<ParsedDrawing> {
  if (text.length > MOST_CHARACTERS) return refuse('drawing-too-big', fileName, { count: MOST_CHARACTERS });
  if (text.startsWith(BINARY_MARK)) return refuse('drawing-binary', fileName);
  const read = readRecords(text.split(/\r\n|\n|\r/));
  return 'code' in read
    ? refuse(read.code, fileName, {}, read.line)
    : { ok: true, value: drawingOf(read.records), problems: [] };
}

type RecordsRead =
  | { readonly records: readonly DrawingRecord[] }
  | { readonly code: string; readonly line: number };

/** Codes and values come in pairs of lines, from a first section to a last "EOF"; code 0 begins a record. */
function readRecords(lines: readonly string[]): RecordsRead {
  let at = 0;
  while (lines[at]?.trim() === '999') at += 2;
  if (lines[at]?.trim() !== '0' || lines[at + 1]?.trim() !== 'SECTION') {
    return { code: 'not-a-drawing', line: at + 1 };
  }
  const records: { type: string; groups: [number, string][] }[] = [];
  for (; at + 1 < lines.length; at += 2) {
    const code = lines[at]!.trim();
    const value = lines[at + 1]!;
    if (!/^-?\d{1,4}$/.test(code)) return { code: 'drawing-unreadable', line: at + 1 };
    if (value.length > LONGEST_LINE) return { code: 'drawing-unreadable', line: at + 2 };
    if (code !== '0') records.at(-1)!.groups.push([Number(code), value]);
    else if (value.trim() === 'EOF') return { records };
    else records.push({ type: value.trim(), groups: [] });
  }
  return { code: 'drawing-cut', line: lines.length };
}

function drawingOf(records: readonly DrawingRecord[]): ParsedDrawing {
  const entities: ParsedEntity[] = [];
  const blocks = new Map<string, ParsedBlock>();
  let unitCode: number | null = null;
  let section = '';
  let into: ParsedEntity[] | null = null;
  for (let at = 0; at < records.length; at++) {
    const record = records[at]!;
    if (record.type === 'SECTION') {
      section = record.groups.find(([code]) => code === 2)?.[1].trim() ?? '';
      into = section === 'ENTITIES' ? entities : null;
      if (section === 'HEADER') unitCode = unitOf(record);
    } else if (record.type === 'ENDSEC' || record.type === 'ENDBLK') {
      into = null;
    } else if (section === 'BLOCKS' && record.type === 'BLOCK') {
      const { name, position } = blockHead(record);
      const inside: ParsedEntity[] = [];
      into = inside;
      blocks.set(name, { position, entities: inside });
    } else if (into) {
      const from = at + 1;
      while (record.type === 'POLYLINE' && records[at + 1]?.type === 'VERTEX') at++;
      if (record.type !== 'SEQEND') into.push(entityOf(record, records.slice(from, at + 1)));
    }
  }
  return { unitCode, entities, blocks };
}

/** The unit's code stands under 70 after the variable's name under 9. */
function unitOf(header: DrawingRecord): number | null {
  const at = header.groups.findIndex(([code, value]) => code === 9 && value.trim() === '$INSUNITS');
  const value = at < 0 ? undefined : header.groups[at + 1];
  return value?.[0] === 70 ? Number(value[1]) : null;
}
