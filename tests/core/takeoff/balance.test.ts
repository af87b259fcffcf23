import { expect, test } from 'vitest';
import { bedDesign, demonstrationDesign } from '../../render/designs';
import { unbalanced } from './balance';

const demonstration = demonstrationDesign();

test('the takeoff of the demonstration balances with its drawing: cuts, rolls, ends and fittings', () => {
  expect(unbalanced(demonstration)).toEqual([]);
});

// Every other bed on file is balanced by the bench of sheets.
test.each(['03-L.geojson', '10-strip18in-bent.geojson', '12-one-tree.geojson', '26-hostile-bowtie.geojson'])(
  'the takeoff of bed %s balances with its drawing',
  (file) => {
    expect(unbalanced(bedDesign(file))).toEqual([]);
  },
);

test('the balance sees a piece cut short, a roll too short, a fitting too many and an end that nothing holds', () => {
  const { takeoff, beds } = demonstration;
  const [cut, ...cuts] = takeoff.cuts;
  const short = { ...cut!, toM: cut!.toM - 0.2, lengthM: cut!.lengthM - 0.2 };
  const [roll, ...rolls] = takeoff.rolls;
  const spare = takeoff.lines.map((line) =>
    line.part === 'stub-up-tee' ? { ...line, quantity: line.quantity + 1 } : line,
  );
  const open = beds.map((bed) => ({ ...bed, layout: { ...bed.layout, joins: [] } }));
  const faultsOf = (changed: Partial<typeof takeoff>) =>
    unbalanced({ ...demonstration, takeoff: { ...takeoff, ...changed } }).join('\n');
  expect(faultsOf({ cuts: [short, ...cuts] })).toMatch(
    /is not cut from end to end\ncuts of [\d.]+ m .* miss by/,
  );
  expect(faultsOf({ rolls: [{ ...roll!, leftM: -1 }, ...rolls] })).toMatch(/roll \d+ is too short/);
  expect(faultsOf({ lines: spare })).toMatch(/^stub-up-tee: \d+ in the takeoff, \d+ on the drawing$/);
  expect(unbalanced({ ...demonstration, beds: open }).join('\n')).toMatch(/ends loose at/);
});
