import DxfParser from 'dxf-parser';
import type { Outcome, Problem } from '../../units';
import type { ParsedDrawing } from './dxfParser';

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

/** Reads the text of a drawing into its parts. Fails by name where it is no drawing, too big, binary or cut short. */
export function parseDrawing(text: string, fileName: string): Outcome<ParsedDrawing> {
  if (text.length > MOST_CHARACTERS) return refuse('drawing-too-big', fileName, { count: MOST_CHARACTERS });
  if (text.startsWith(BINARY_MARK)) return refuse('drawing-binary', fileName);
  const lines = text.split(/\r\n|\n|\r/);
  const fault = firstFault(lines);
  if (fault) return refuse(fault.code, fileName, {}, fault.line);
  try {
    const drawing = new DxfParser().parseSync(lines.join('\n'));
    return drawing ? { ok: true, value: drawing, problems: [] } : refuse('drawing-unreadable', fileName);
  } catch {
    return refuse('drawing-unreadable', fileName);
  }
}

/** Codes and values come in pairs of lines, from a first section to a last "EOF". */
function firstFault(lines: readonly string[]): { readonly code: string; readonly line: number } | null {
  let at = 0;
  while (lines[at]?.trim() === '999') at += 2;
  if (lines[at]?.trim() !== '0' || lines[at + 1]?.trim() !== 'SECTION') {
    return { code: 'not-a-drawing', line: at + 1 };
  }
  for (; at + 1 < lines.length; at += 2) {
    const code = lines[at]!.trim();
    if (!/^-?\d{1,4}$/.test(code)) return { code: 'drawing-unreadable', line: at + 1 };
    if (lines[at + 1]!.length > LONGEST_LINE) return { code: 'drawing-unreadable', line: at + 2 };
    if (code === '0' && lines[at + 1]!.trim() === 'EOF') return null;
  }
  return { code: 'drawing-cut', line: lines.length };
}
