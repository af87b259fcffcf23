import Papa from 'papaparse';
import { z } from 'zod';
import { firstExcess, type Outcome, type Place, type Problem, schemaReason } from '../units';
import { MOST_PARTS, partSchema, partsFileSchema } from './partsSchema';
import type { Assembly, Backflow, Catalog, Dripline, Fitting, Meter, Pipe } from './types';

/** Any part of a catalogue. */
export type CatalogPart = Dripline | Pipe | Assembly | Meter | Backflow | Fitting;

const MOST_CHARACTERS = 4_000_000;
const MOST_PROBLEMS = 50;
/** A part nests no deeper than six levels and has under sixty figures. */
const FILE_LIMITS = { maxDepth: 32, maxValues: 1_000_000 };
/** Columns may name a part's inner figures, `emitter.minHeadM`; no part nests deeper. */
const DEEPEST_COLUMN = 3;
const UNSAFE_NAMES: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);
const USER_SOURCE = { text: "the user's parts file", standing: 'user' } as const;

const stop = (code: string, where: Place, params: Problem['params'] = {}): Problem => ({
  code,
  severity: 'stop',
  where,
  params,
});

/** What one part of a file was found to be, with its place. */
interface Row {
  readonly value: unknown;
  readonly where: Place;
}

/** Every reason why a row is no part, each with the path of the figure at fault. */
function faultsOf(error: z.ZodError, where: Place): Problem[] {
  return error.issues.map((issue) => {
    const path = [where.path ?? '', ...issue.path.map(String)].filter((step) => step !== '').join('.');
    const at: Place = { ...where, path };
    return issue.code === 'unrecognized_keys'
      ? stop('catalog.unknown-figure', at, { names: issue.keys.slice(0, 10).map((key) => key.slice(0, 60)) })
      : stop('catalog.bad-part', at, {
          reason: schemaReason(issue),
          figure: issue.path.map(String).join('.'),
        });
  });
}

/** The file's own figures with the source filled in; absent figures stay absent. */
function partOf(value: z.infer<typeof partSchema>): CatalogPart {
  return { ...value, source: value.source ?? USER_SOURCE } as CatalogPart;
}

function readRows(rows: readonly Row[]): Outcome<readonly CatalogPart[]> {
  const problems: Problem[] = [];
  const parts: CatalogPart[] = [];
  const seen = new Set<string>();
  for (const { value, where } of rows) {
    const checked = partSchema.safeParse(value);
    if (!checked.success) problems.push(...faultsOf(checked.error, where));
    else if (seen.has(checked.data.id))
      problems.push(stop('catalog.same-id', where, { id: checked.data.id }));
    else {
      seen.add(checked.data.id);
      parts.push(partOf(checked.data));
    }
    if (problems.length >= MOST_PROBLEMS) break;
  }
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, value: parts, problems: [] };
}

function readJson(text: string, file: string): Outcome<readonly CatalogPart[]> {
  if (firstExcess(text, FILE_LIMITS) !== null)
    return { ok: false, problems: [stop('catalog.not-a-parts-file', { file })] };
  let document: unknown;
  try {
    document = JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
  } catch {
    return { ok: false, problems: [stop('catalog.parts-not-json', { file })] };
  }
  const shell = z.strictObject({ ...partsFileSchema.shape, parts: z.array(z.unknown()).max(MOST_PARTS) });
  const outer = shell.safeParse(document);
  if (!outer.success) return { ok: false, problems: [stop('catalog.not-a-parts-file', { file })] };
  return readRows(
    outer.data.parts.map((value, index) => ({ value, where: { file, path: `parts[${index}]` } })),
  );
}

/** A cell as the value it stands for: a number, yes or no, nothing, a list of numbers, or words. */
function cellValue(column: string, cell: string): unknown {
  const words = cell.trim();
  if (column === 'rollLengthsM') return words.split(/[\s;]+/).map(Number);
  if (words === 'true') return true;
  if (words === 'false') return false;
  if (words === 'null') return null;
  const isWords = /^(id|name|nominal|connection|box|use)$|^(source|order)\.(?!price$)/.test(column);
  return isWords || !/^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$/.test(words) ? words : Number(words);
}

/** One line of the table as a part: columns `emitter.kind` and the like go into inner figures; empty cells are absent. */
function lineToPart(columns: readonly string[], cells: readonly string[]): Record<string, unknown> {
  const part: Record<string, unknown> = {};
  columns.forEach((column, index) => {
    const cell = cells[index] ?? '';
    const steps = column.split('.');
    if (cell.trim() === '' || steps.length > DEEPEST_COLUMN || steps.some((step) => UNSAFE_NAMES.has(step)))
      return;
    let at = part;
    for (const step of steps.slice(0, -1)) {
      // A column `order` beside one `order.price` holds a bare value: the check of the part then names it.
      const inner = at[step] ?? {};
      if (typeof inner !== 'object') return;
      at[step] = inner;
      at = inner as Record<string, unknown>;
    }
    at[steps.at(-1)!] = cellValue(column, cell);
  });
  return part;
}

function readCsv(text: string, file: string): Outcome<readonly CatalogPart[]> {
  const table = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), {
    skipEmptyLines: 'greedy',
    preview: MOST_PARTS + 2,
  });
  const fault = table.errors.find(({ code }) => code !== 'UndetectableDelimiter');
  if (fault) {
    const line = (fault.row ?? 0) + 1;
    return {
      ok: false,
      problems: [stop('catalog.parts-not-a-table', { file, line }, { reason: fault.message })],
    };
  }
  const [head, ...lines] = table.data;
  const columns = (head ?? []).map((column) => column.trim());
  if (!columns.includes('kind') || !columns.includes('id') || lines.length > MOST_PARTS) {
    return { ok: false, problems: [stop('catalog.not-a-parts-file', { file })] };
  }
  return readRows(
    lines.map((cells, index) => ({ value: lineToPart(columns, cells), where: { file, line: index + 2 } })),
  );
}

/**
 * Reads the user's own parts: JSON (`format: "rillsheet-parts"`) or a table with one part a line, its columns named as the
 * figures are (`emitter.minHeadM` for an inner one; empty cells are absent). SI units.
 *
 * Fails: every fault at once, each with its place: `catalog.parts-too-large`, `.parts-not-json`, `.parts-not-a-table`,
 * `.not-a-parts-file`, `.bad-part`, `.unknown-figure`, `.same-id`. A file with one fault gives no parts.
 */
export function readPartsFile(
  text: string,
  format: 'json' | 'csv',
  fileName = '',
): Outcome<readonly CatalogPart[]> {
  if (text.length > MOST_CHARACTERS) {
    return { ok: false, problems: [stop('catalog.parts-too-large', { file: fileName })] };
  }
  return format === 'json' ? readJson(text, fileName) : readCsv(text, fileName);
}

function merged<T extends CatalogPart>(shipped: readonly T[], own: readonly T[]): readonly T[] {
  if (own.length === 0) return shipped;
  const byId = new Map(own.map((part) => [part.id, part]));
  const known = new Set(shipped.map(({ id }) => id));
  return [...shipped.map((part) => byId.get(part.id) ?? part), ...own.filter(({ id }) => !known.has(id))];
}

/** A catalogue with the user's parts: one with the id of a shipped part takes its place, others are added behind. */
export function mergeParts(catalog: Catalog, parts: readonly CatalogPart[]): Catalog {
  const of = <K extends CatalogPart['kind']>(kind: K) =>
    parts.filter((part): part is Extract<CatalogPart, { kind: K }> => part.kind === kind);
  return {
    driplines: merged(catalog.driplines, of('dripline')),
    pipes: merged(catalog.pipes, of('pipe')),
    assemblies: merged(catalog.assemblies, of('assembly')),
    meters: merged(catalog.meters, of('meter')),
    backflows: merged(catalog.backflows, of('backflow')),
    fittings: merged(catalog.fittings, of('fitting')),
  };
}
