import { type Outcome, type Problem, schemaReason } from '../units';
import { parseJsonText } from './jsonText';
import { migrateDocument } from './migrations';
import { ITEM_MAPS, PLAN_VERSION, type Plan, planSchema } from './schema';

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const stop = (code: string, file: string, path: string, params: Problem['params'] = {}): Problem => ({
  code,
  severity: 'stop',
  where: path === '' ? { file } : { file, path },
  params,
});

const pathText = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, key) =>
      typeof key === 'number' ? `${text}[${key}]` : text === '' ? String(key) : `${text}.${String(key)}`,
    '',
  );

/** True if a parsed document says that it is a plan of ours, whatever its version. */
export function isPlanDocument(value: unknown): boolean {
  return isRecord(value) && value.format === 'rillsheet-plan';
}

/** Every item is kept under its own id, edges match corners, and nothing outside the schema gets in. */
function crossProblems(plan: Plan, file: string): Problem[] {
  const problems: Problem[] = [];
  for (const map of ITEM_MAPS) {
    for (const [key, item] of Object.entries(plan[map])) {
      if (item.id !== key)
        problems.push(stop('plan.id-mismatch', file, `${map}.${key}`, { id: item.id, key }));
    }
  }
  for (const bed of Object.values(plan.beds)) {
    bed.rings.forEach((ring, i) => {
      if (ring.edges.length !== ring.points.length) {
        problems.push(
          stop('plan.edge-count', file, `beds.${bed.id}.rings[${i}]`, {
            corners: ring.points.length,
            edges: ring.edges.length,
          }),
        );
      }
    });
  }
  return problems;
}

/**
 * Checks a parsed document and brings it to the present version.
 *
 * Fails: `plan.not-a-plan`, `plan.newer` (left untouched), `plan.bad-version`, `plan.bad-value` once per fault with its path.
 */
export function planFromDocument(value: unknown, fileName: string): Outcome<Plan> {
  if (!isRecord(value) || value.format !== 'rillsheet-plan')
    return { ok: false, problems: [stop('plan.not-a-plan', fileName, '')] };
  const version = value.version;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    return { ok: false, problems: [stop('plan.bad-version', fileName, 'version')] };
  }
  if (version > PLAN_VERSION) {
    return {
      ok: false,
      problems: [stop('plan.newer', fileName, 'version', { version, known: PLAN_VERSION })],
    };
  }
  const parsed = planSchema.safeParse(migrateDocument(value));
  if (!parsed.success) {
    return {
      ok: false,
      problems: parsed.error.issues
        .slice(0, 100)
        .map((issue) =>
          stop('plan.bad-value', fileName, pathText(issue.path), { reason: schemaReason(issue) }),
        ),
    };
  }
  const problems = crossProblems(parsed.data, fileName);
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: parsed.data, problems: [] };
}

/** Reads a plan file. Problems carry the file, and the line or the path inside it. */
export function readPlan(text: string, fileName: string): Outcome<Plan> {
  const parsed = parseJsonText(text, fileName);
  return parsed.ok ? planFromDocument(parsed.value, fileName) : parsed;
}

const isLeaf = (value: unknown): boolean => typeof value !== 'object' || value === null;

/** One line for whatever holds only plain values, so that a moved corner is a one-line difference. */
function layOut(value: unknown, indent: string): string {
  if (isLeaf(value)) return JSON.stringify(value);
  const parts: [string, unknown][] = Array.isArray(value)
    ? value.map((v) => ['', v])
    : Object.entries(value as object).map(([k, v]) => [`${JSON.stringify(k)}: `, v]);
  const [open, close] = Array.isArray(value) ? ['[', ']'] : ['{', '}'];
  if (parts.length === 0) return open + close;
  if (parts.every(([, v]) => isLeaf(v)))
    return `${open}${parts.map(([k, v]) => k + JSON.stringify(v)).join(', ')}${close}`;
  const inner = `${indent} `;
  return `${open}\n${parts.map(([k, v]) => inner + k + layOut(v, inner)).join(',\n')}\n${indent}${close}`;
}

/**
 * The text of a plan file: keys in the schema's order, items by id, a last line break.
 * The same plan always gives the same bytes.
 */
export function writePlan(plan: Plan): string {
  const ordered: Record<string, unknown> = { ...planSchema.parse(plan) };
  for (const map of ITEM_MAPS) {
    ordered[map] = Object.fromEntries(
      Object.entries(plan[map]).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)),
    );
  }
  ordered.settings = Object.fromEntries(Object.entries(plan.settings).sort(([a], [b]) => (a < b ? -1 : 1)));
  return `${layOut(planSchema.parse(ordered), '')}\n`;
}
