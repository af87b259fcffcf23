import { expect, test } from 'vitest';
import { drawSheetSet, type SheetKind } from '../../src/core/drawing';
import { renderPdf } from '../../src/render';
import { curvedDesign } from '../core/drawing/fixture';
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
  },
  {
    call: 'Two beds on one valve: which wire?',
    sheet: 'plan',
    at: 'valves and rows: the station of each valve',
    says: [/^station$/],
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

const list = drawSheetSet(curvedDesign(), { paper: 'tabloid' });
const read = await readPages(renderPdf(list, fonts));
const textsOf = (sheet: SheetKind): readonly string[] =>
  list.pages.flatMap((page, i) =>
    page.key === sheet || page.key.startsWith(`${sheet}-`) ? read[i]!.texts.map((t) => t.text.trim()) : [],
  );

test('fifteen calls are answered', () => {
  expect(new Set(ANSWERS.map((answer) => answer.call)).size).toBe(15);
});

test.each(ANSWERS)('"$call" is answered on the printed $sheet sheet: $at', ({ sheet, says }) => {
  const texts = textsOf(sheet);
  for (const phrase of says)
    expect(
      texts.some((text) => phrase.test(text)),
      String(phrase),
    ).toBe(true);
});
