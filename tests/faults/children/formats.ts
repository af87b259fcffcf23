import { readPartsFile } from '../../../src/core/catalog';
import { readDxf, readGeoJson, readInp, readPictureHead, readPointsCsv } from '../../../src/core/exchange';
import { type Plan, planSchema, readPlan, writePlan } from '../../../src/core/plan';
import { type Outcome, type Problem, printer } from '../../../src/core/units';
import { sayProblem } from '../../../src/core/words';

/** A door that files come in by: how it reads, and the plan that it gives where it gives one. */
interface Door {
  readonly read: (text: string) => Outcome<unknown>;
  readonly planOf: (value: never) => Plan | null;
}

const none = () => null;
const bytesOf = (text: string): Uint8Array => Buffer.from(text, 'latin1');

/** Every door by name. Pictures come as text of one character a byte. */
export const DOORS = {
  plan: { read: (text) => readPlan(text, 'x.json'), planOf: (plan: Plan) => plan },
  geojson: { read: (text) => readGeoJson(text, { fileName: 'x.geojson' }), planOf: (plan: Plan) => plan },
  dxf: {
    read: (text) => readDxf(text, { fileName: 'x.dxf' }),
    planOf: ({ plan }: { plan: Plan }) => plan,
  },
  points: { read: (text) => readPointsCsv(text, { fileName: 'x.csv' }), planOf: (plan: Plan) => plan },
  'parts-json': { read: (text) => readPartsFile(text, 'json', 'x.json'), planOf: none },
  'parts-csv': { read: (text) => readPartsFile(text, 'csv', 'x.csv'), planOf: none },
  inp: { read: (text) => readInp(text, { fileName: 'x.inp' }), planOf: none },
  png: { read: (text) => readPictureHead(bytesOf(text), 'x.png'), planOf: none },
  jpeg: { read: (text) => readPictureHead(bytesOf(text), 'x.jpg'), planOf: none },
} as const satisfies Record<string, Door>;
export type DoorName = keyof typeof DOORS;

/** What is wrong with a list of problems: one that says no place, no reason or no remedy. Null: nothing. */
function unsaid(problems: readonly Problem[], input: string): string | null {
  for (const problem of problems.slice(0, 20)) {
    const said = sayProblem(problem, printer('us'));
    if (said.what === problem.code || said.what.length < 4) return `${problem.code} has no words`;
    if (said.why.length < 4) return `${problem.code} says no reason`;
    if (said.next.length < 4) return `${problem.code} says no remedy`;
    if (!problem.where.file) return `${problem.code} names no file`;
    // What the input itself says may be said back.
    const gap = /undefined|NaN|\[object/.exec(said.what + said.why + said.next)?.[0];
    if (gap !== undefined && !input.includes(gap)) return `${problem.code} has a gap: ${gap}`;
  }
  return null;
}

/**
 * Reads one input as the program would. What comes in has to keep to the schema and be saved twice with the same bytes;
 * what is refused has to say where, why and what to do.
 */
export function tryDoor(
  name: DoorName,
  text: string,
): { readonly isTaken: boolean; readonly fault: string | null } {
  const door: Door = DOORS[name];
  let outcome: Outcome<unknown>;
  try {
    outcome = door.read(text);
  } catch (error) {
    return { isTaken: false, fault: `threw ${String(error).slice(0, 200)}` };
  }
  if (({} as Record<string, unknown>).polluted !== undefined) return { isTaken: true, fault: 'polluted' };
  if (!outcome.ok && outcome.problems.length === 0) return { isTaken: false, fault: 'refused in silence' };
  const gap = unsaid(outcome.problems, text);
  if (gap !== null || !outcome.ok) return { isTaken: outcome.ok, fault: gap };
  const plan = door.planOf(outcome.value as never);
  if (plan === null) return { isTaken: true, fault: null };
  if (!planSchema.safeParse(plan).success) return { isTaken: true, fault: 'against the schema' };
  const saved = writePlan(plan);
  const again = readPlan(saved, 'again.json');
  if (!again.ok) return { isTaken: true, fault: `saved but not read again: ${again.problems[0]?.code}` };
  return { isTaken: true, fault: writePlan(again.value) === saved ? null : 'the second save differs' };
}
