import { expect, test } from 'vitest';
import type { Design } from '../../src/core/design';
import { drawSheetSet, type SheetKind } from '../../src/core/drawing';
import { renderPdf } from '../../src/render';
import { curvedDesign } from '../core/drawing/fixture';
import { demonstrationDesign } from './designs';
import { fonts } from './readBack';
import { readPages } from './readLettering';

interface Answer {
  readonly call: string;
  /** The sheet of the set to point at. */
  readonly sheet: SheetKind;
  /** The heading or the thing of the plan that a finger is put on. */
  readonly at: string;
  /** What is printed there. */
  readonly says: readonly RegExp[];
  /** What differs on the demonstration: its beds are called otherwise, and its plan sheet has room for fewer tables. */
  readonly onDemonstration?: { readonly sheet?: SheetKind; readonly says?: readonly RegExp[] };
}

/** The fifteen calls crews make (common practice, no source), and where on the set each is answered. */
const ANSWERS: readonly Answer[] = [
  {
    call: 'Where exactly is the connection?',
    sheet: 'plan',
    at: 'its symbol and name on the plan',
    says: [/^Point of connection$/, /^F1$/, /^F2$/],
  },
  {
    call: 'Where exactly is the connection?',
    sheet: 'tables',
    at: 'ties, by two tapes',
    says: [/^Ties, by two tapes$/, /^Point of connection$/, /^from F1$/],
  },
  {
    call: 'Which side does the header go?',
    sheet: 'plan',
    at: 'header drawn to scale with its note',
    says: [/^Header, zone 1$/, /PVC.* deep$/],
  },
  {
    call: 'Row spacing here narrows: follow the edge or stop?',
    sheet: 'tables',
    at: 'general notes',
    says: [/^General notes$/, /^Where a bed narrows, the row follows the edge/],
  },
  { call: 'How far off the wall?', sheet: 'plan', at: 'offset note', says: [/in off the foundation$/] },
  {
    call: 'Boulder not on plan: loop or cut?',
    sheet: 'tables',
    at: 'general notes',
    says: [/^Root ball or stone in the way: go round/],
  },
  {
    call: 'Coil ran out: splice where?',
    sheet: 'tables',
    at: 'rolls, general notes',
    says: [/^Rolls: what to cut from which$/, /^A roll runs out: splice in a straight row/],
  },
  {
    call: 'Which row is short at the curve?',
    sheet: 'tables',
    at: 'stations where an edge curves',
    says: [/^Stations, Bed B$/, /\d'-\d+" [LR]$/],
    onDemonstration: { says: [/^Stations, Rose border$/, /\d'-\d+" [LR]$/] },
  },
  {
    call: 'Flush end buried or boxed?',
    sheet: 'plan',
    at: 'detail under the plan, and the name beside each flush valve',
    says: [/^Flush valve in its box, section$/, /^Flush valve [A-Z]\d+, in box$/],
  },
  {
    call: 'Is the arrow on the filter right; before or after the regulator?',
    sheet: 'plan',
    at: 'detail under the plan',
    says: [/^Valve assembly in its box, section$/, /^This order, arrows down the line\.$/],
  },
  {
    call: 'What pressure should I read?',
    sheet: 'plan',
    at: 'read and write down, before mulch',
    says: [/^After regulator, V1$/, /^[\d.]+ psi$/],
  },
  {
    call: 'Static is 45, not 70: go on?',
    sheet: 'plan',
    at: 'read and write down, before mulch',
    says: [/^Static, connection$/, /^under [\d.]+ psi: stop, call$/],
  },
  {
    call: 'Sleeve missing under the walk?',
    sheet: 'tables',
    at: 'ties for where it should be, and ask first',
    says: [/^Sleeve S1, end 1$/, /^Ask first$/, /a sleeve missing\.$/],
  },
  {
    call: 'Tree root ball inside the grid: move or ring?',
    sheet: 'tables',
    at: 'you may, without asking',
    says: [/^You may, without asking$/, /^Move a row up to 6 in round a plant/],
  },
  {
    call: 'Two beds on one valve: which wire?',
    sheet: 'plan',
    at: 'zones: the beds of each valve',
    says: [/^Zones$/, /^A, C$/],
    onDemonstration: { says: [/^Zones$/, /^V2$/, /^B$/] },
  },
  {
    call: 'Two beds on one valve: which wire?',
    sheet: 'plan',
    at: 'valves and rows: the station of each valve',
    says: [/^station$/],
    onDemonstration: { sheet: 'tables' },
  },
  {
    call: 'Mulch before or after test? (and: who signs?)',
    sheet: 'plan',
    at: 'the heading of the readings, with the line to sign',
    says: [/^Read and write down, before mulch$/, /^Signed$/],
  },
  {
    call: 'Mulch before or after test? (and: who signs?)',
    sheet: 'tables',
    at: 'order of work, general notes',
    says: [/Then mulch\.$/, /after the test and not before\.$/],
  },
];

async function printed(design: Design): Promise<(sheet: SheetKind) => readonly string[]> {
  const list = drawSheetSet(design, { paper: 'tabloid' });
  const read = await readPages(renderPdf(list, fonts));
  return (sheet) =>
    list.pages.flatMap((page, i) =>
      page.key === sheet || page.key.startsWith(`${sheet}-`) ? read[i]!.texts.map((t) => t.text.trim()) : [],
    );
}

const demonstration = demonstrationDesign();
const SETS = {
  'a plan of curved beds': await printed(curvedDesign()),
  'the demonstration': await printed(demonstration),
};
const CASES = Object.entries(SETS).flatMap(([plan, textsOf]) =>
  ANSWERS.map((answer) => ({
    ...answer,
    plan,
    textsOf,
    ...(plan === 'the demonstration' ? answer.onDemonstration : {}),
  })),
);

test('fifteen calls are answered', () => {
  expect(new Set(ANSWERS.map((answer) => answer.call)).size).toBe(15);
});

test.each(CASES)('"$call" is answered on the printed $sheet sheet of $plan: $at', (answer) => {
  const texts = answer.textsOf(answer.sheet);
  for (const phrase of answer.says)
    expect(
      texts.some((text) => phrase.test(text)),
      String(phrase),
    ).toBe(true);
});

/** Metres of water in a psi: 0.45359237 x 9.80665 / 0.0254^2 Pa over 9806.65 Pa/m. */
const PSI = 0.45359237 / 0.0254 ** 2 / 1000;

test('what the demonstration says to read is what its networks were solved for, and what its site was measured at', () => {
  const texts = SETS['the demonstration']('plan');
  const besideOf = (label: string): string => texts[texts.indexOf(label) + 1] ?? '';
  for (const zone of demonstration.supply.zones) {
    const at = zone.network.nodes.findIndex(({ id }) => id === zone.readAt.afterRegulator);
    const headM = zone.solution.headM[at]! - zone.network.nodes[at]!.elevationM;
    expect(besideOf(`After regulator, V${zone.number}`)).toBe(`${(headM / PSI).toFixed(1)} psi`);
  }
  const [source] = Object.values(demonstration.plan.sources);
  expect(besideOf('Static, connection')).toBe(`${(source!.staticHeadM! / PSI).toFixed(1)} psi`);
});
