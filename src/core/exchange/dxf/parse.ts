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
/** Objects, vertices and entries of tables, all together. */
const MOST_RECORDS = 300_000;
/** Objects of the drawing and its blocks; more than are ever drawn out. */
const MOST_OBJECTS = 60_000;
/** Codes of one record: a light polyline of a hundred thousand corners. */
const MOST_GROUPS = 500_000;

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
 * Reads the text of a drawing into its parts, in one pass that never goes back and keeps one record at a time, so that no
 * file can hold it or fill the memory.
 * Fails by name where it is no drawing, too big, binary, cut short or broken.
 */
export function parseDrawing(text: string, fileName: string): Outcome<ParsedDrawing> {
  if (text.length > MOST_CHARACTERS) return refuse('drawing-too-big', fileName, { count: MOST_CHARACTERS });
  if (text.startsWith(BINARY_MARK)) return refuse('drawing-binary', fileName);
  const gathering = startGathering();
  const fault = readRecords(text, gathering.take);
  if (fault === null) return { ok: true, value: gathering.finish(), problems: [] };
  return refuse(fault.code, fileName, { count: MOST_OBJECTS }, fault.line);
}

interface RecordFault {
  readonly code: 'not-a-drawing' | 'drawing-unreadable' | 'drawing-cut' | 'drawing-too-big';
  readonly line: number;
}

/** Gives the lines of a text one by one, whatever ends them; null after the last. */
function linesOf(text: string): () => string | null {
  const end = text.includes('\n') ? '\n' : '\r';
  let at = 0;
  return () => {
    if (at > text.length) return null;
    const found = text.indexOf(end, at);
    const stop = found < 0 ? text.length : found;
    const line = text.slice(at, text[stop - 1] === '\r' && stop > at ? stop - 1 : stop);
    at = stop + 1;
    return line;
  };
}

/** Codes and values come in pairs of lines, from a first section to a last "EOF"; code 0 begins a record. */
function readRecords(text: string, take: (record: DrawingRecord) => boolean): RecordFault | null {
  const next = linesOf(text);
  let record: { type: string; groups: [number, string][] } | null = null;
  let records = 0;
  for (let line = 1; ; line += 2) {
    const code = next()?.trim();
    const value = next();
    if (value === null || code === undefined) {
      return { code: record === null ? 'not-a-drawing' : 'drawing-cut', line };
    }
    if (record === null && code === '999') continue;
    if (record === null && (code !== '0' || value.trim() !== 'SECTION'))
      return { code: 'not-a-drawing', line };
    if (!/^-?\d{1,4}$/.test(code)) return { code: 'drawing-unreadable', line };
    if (value.length > LONGEST_LINE) return { code: 'drawing-unreadable', line: line + 1 };
    if (code !== '0') {
      if (record!.groups.length >= MOST_GROUPS) return { code: 'drawing-too-big', line };
      record!.groups.push([Number(code), value]);
      continue;
    }
    if (record !== null && !take(record)) return { code: 'drawing-too-big', line };
    if (value.trim() === 'EOF') return null;
    records += 1;
    if (records > MOST_RECORDS) return { code: 'drawing-too-big', line };
    record = { type: value.trim(), groups: [] };
  }
}

/** Puts records where they belong as they come: the header's unit, blocks, objects. */
function startGathering(): {
  /** False once there are more objects than can be drawn. */
  readonly take: (record: DrawingRecord) => boolean;
  readonly finish: () => ParsedDrawing;
} {
  const entities: ParsedEntity[] = [];
  const blocks = new Map<string, ParsedBlock>();
  let unitCode: number | null = null;
  let section = '';
  let into: ParsedEntity[] | null = null;
  /** An old-style polyline waits for its vertices, which are records of their own. */
  let open: { readonly polyline: DrawingRecord; readonly vertices: DrawingRecord[] } | null = null;
  let objects = 0;
  const put = (entity: ParsedEntity): void => {
    into?.push(entity);
    objects += 1;
  };
  const close = (): void => {
    if (open !== null) put(entityOf(open.polyline, open.vertices));
    open = null;
  };
  const take = (record: DrawingRecord): boolean => {
    if (open !== null && record.type === 'VERTEX') {
      open.vertices.push(record);
      return true;
    }
    close();
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
    } else if (into && record.type === 'POLYLINE') open = { polyline: record, vertices: [] };
    else if (into && record.type !== 'SEQEND') put(entityOf(record, []));
    return objects <= MOST_OBJECTS;
  };
  return {
    take,
    finish: () => {
      close();
      return { unitCode, entities, blocks };
    },
  };
}

/** The unit's code stands under 70 after the variable's name under 9. */
function unitOf(header: DrawingRecord): number | null {
  const at = header.groups.findIndex(([code, value]) => code === 9 && value.trim() === '$INSUNITS');
  const value = at < 0 ? undefined : header.groups[at + 1];
  return value?.[0] === 70 ? Number(value[1]) : null;
}
