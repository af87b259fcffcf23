import { expect, test } from 'vitest';
import { type DrawingItem, drawSheetSet } from '../../../src/core/drawing';
import { takeOff } from '../../../src/core/takeoff';
import { fixtureDesign } from './fixture';

/**
 * The fifteen calls crews make (common practice, no source), and where on the set each is answered: `at` names the
 * block or the part of the plan, `says` what is printed there.
 */
const ANSWERS: readonly { readonly call: string; readonly at: string; readonly says: readonly RegExp[] }[] = [
  {
    call: 'Where exactly is the connection?',
    at: 'plan symbol and ties',
    says: [/^Point of connection$/, /^from F1$/],
  },
  {
    call: 'Which side does the header go?',
    at: 'plan, header drawn to scale with its note',
    says: [/^Header, zone 1$/, /PVC.* deep$/],
  },
  {
    call: 'Row spacing here narrows: follow the edge or stop?',
    at: 'general notes',
    says: [/^Where a bed narrows, the row follows the edge/],
  },
  { call: 'How far off the wall?', at: 'plan, offset note', says: [/in off the foundation$/] },
  {
    call: 'Boulder not on plan: loop or cut?',
    at: 'general notes',
    says: [/^Root ball or stone in the way: go round/],
  },
  {
    call: 'Coil ran out: splice where?',
    at: 'rolls, general notes',
    says: [/^Rolls: what to cut from which$/, /^A roll runs out: splice in a straight row/],
  },
  {
    call: 'Which row is short at the curve?',
    at: 'plan to scale; stations where an edge curves',
    says: [/do not scale from this sheet/, /^Stations, Bed B$/],
  },
  {
    call: 'Flush end buried or boxed?',
    at: 'detail and general notes',
    says: [/^Flush valve in its box, section$/, /^Flush valves stand in a box/],
  },
  {
    call: 'Is the arrow on the filter right; before or after the regulator?',
    at: 'detail and general notes',
    says: [/^Valve assembly in its box, section$/, /^Filter after the valve, regulator after the filter/],
  },
  {
    call: 'What pressure should I read?',
    at: 'read these before mulch',
    says: [/^After the regulator, zone 1$/, /psi$/],
  },
  {
    call: 'Static is 45, not 70: go on?',
    at: 'read these before mulch',
    says: [/^under [\d.]+ psi: stop, call$/],
  },
  {
    call: 'Sleeve missing under the walk?',
    at: 'ties and ask first',
    says: [/^Sleeve S1, end 1$/, /a sleeve missing\.$/],
  },
  {
    call: 'Tree root ball inside the grid: move or ring?',
    at: 'you may, without asking',
    says: [/^Move a row up to 6 in round a plant/],
  },
  { call: 'Two beds on one valve: which wire?', at: 'zones, valves and rows', says: [/^A, C$/, /^station$/] },
  {
    call: 'Mulch before or after test? (and: who signs?)',
    at: 'order of work, notes, crew to fill in',
    says: [/Then mulch\.$/, /after the test and not before\.$/, /^Signed$/],
  },
];

const texts = (items: readonly DrawingItem[]): string[] =>
  items.flatMap((item) =>
    item.kind === 'text' ? [item.text] : item.kind === 'clip' ? texts(item.items) : [],
  );

function curvedDesign() {
  const design = fixtureDesign();
  const beds = design.beds.map((bed) => {
    if (bed.mark !== 'B') return bed;
    const ring = bed.layout.outline[0]!.outer;
    const [a, b] = [ring[1]!, ring[2]!];
    const arc = Array.from({ length: 14 }, (_, i) => {
      const t = (i + 1) / 15;
      return { x: a.x + 0.6 * Math.sin(Math.PI * t), y: a.y + (b.y - a.y) * t };
    });
    const outer = [ring[0]!, a, ...arc, b, ring[3]!];
    return { ...bed, layout: { ...bed.layout, outline: [{ outer, holes: [] }] } };
  });
  const counted = beds.map((bed) => ({
    id: bed.id,
    name: bed.name,
    dripline: bed.choice.dripline,
    layout: bed.layout,
    soil: bed.choice.soil,
  }));
  const takeoff = takeOff({
    plan: design.plan,
    catalog: design.catalog,
    beds: counted,
    supply: design.supply,
  });
  return { ...design, beds, takeoff };
}

const all = drawSheetSet(curvedDesign(), { paper: 'tabloid' }).pages.flatMap((page) => texts(page.items));

test.each(ANSWERS)('"$call" is answered on the set: $at', ({ says }) => {
  for (const phrase of says)
    expect(
      all.some((t) => phrase.test(t)),
      String(phrase),
    ).toBe(true);
});
