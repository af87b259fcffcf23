import { expect, test } from 'vitest';
import { drawCalculations, drawSheetSet } from '../../src/core/drawing';
import { renderPdf } from '../../src/render';
import { curvedDesign, fixtureDesign } from '../core/drawing/fixture';
import { fonts } from './readBack';
import { readPages } from './readLettering';

const design = curvedDesign();
const texts = (await readPages(renderPdf(drawSheetSet(design, { paper: 'tabloid' }), fonts)))
  .flatMap((page) => page.texts)
  .map((text) => text.text.trim());
const says = (phrase: RegExp): boolean => texts.some((text) => phrase.test(text));

/** What must be on an install sheet (common practice, no source), and how this set prints it. */
const MUSTS: readonly (readonly [string, readonly RegExp[]])[] = [
  ['scale', [/^Scale .* do not scale from this sheet\.$/]],
  ['north', [/^N$/]],
  ['dimensions from fixed points', [/^Ties, by two tapes$/, /^F1 is the .*; F2 is the /, /^\d+'-\d+"$/]],
  ['every row with start, end and spacing', [/^Runs$/, /^A1$/, /^Rows [\d.]+ in centre to centre$/]],
  ['where to begin and which way', [/^Begin at the stub-up, go /]],
  ['the jig', [/^Jig: cut [\d.]+ in to lie between$/]],
  ['offset from edges and foundations', [/off the paving$/, /off the foundation$/]],
  ['emitter flow and spacing', [/Emitters 0\.[\d.]+ gph, [\d.]+ in apart/]],
  ['header sizes, lengths and depths', [/in PVC Sch 40, [\d.]+ in deep$/, /^Header, zone 1, to/]],
  ['each fitting by count', [/^Takeoff$/, /^Manual flush valve$/, /^Stub-up tee/]],
  ['valve, filter, regulator with setting and order', [/^filter, \d+ mesh$/, /^regulator, [\d.]+ psi$/]],
  ['backflow', [/^Backflow preventer$/]],
  ['flush locations', [/^Flush valve A1, in box$/]],
  ['sleeves', [/^Sleeve S1$/, /^Sleeve S1, end 2$/]],
  ['depths', [/^Depths, to the top of the pipe: headers [\d.]+ in\*, main [\d.]+ in\*, sleeves [\d.]+ in/]],
  ['staple rule', [/^Staples in .*: every [\d.]+ in, one each side of every turn and tee/]],
  ['zone table', [/^Zones$/, /^needs$/, /^available$/, /^spare$/]],
  ['length, emitters, flow and lowest pressure of a run', [/^lowest$/, /^[\d.]+ gpm$/, /^[\d.]+ ft$/]],
  ['test values to hit', [/^Read and write down, before mulch$/, /^should read$/, /^found$/]],
  ['blanks to sign', [/^Date$/, /^Initials$/, /^Signed$/]],
  ['legend', [/^On this sheet$/]],
  ['coil cut list', [/^Rolls: what to cut from which$/, /^Roll 1: A1 /]],
  ['buried utilities', [/^Have buried utilities located before digging/]],
  ['what may be changed without asking, and what not', [/^Move a row up to 6 in/, /^Row spacing, or/]],
  ['backflow caution', [/local code decides, licensed trade/]],
  ['pressure caution', [/let the pressure off before opening/]],
  ['electrical caution', [/power off at the breaker/]],
  ['flushing before closing the loop', [/flush until clear, then close it/]],
  ['mulch after the test', [/over all tubing, after the test and not before/]],
  ["checker's statement", [/^Checker's statement$/, /^Licence$/]],
  ['revisions', [/^Last change$/]],
  ['order of work', [/^Order of work$/]],
  ['commissioning', [/^Commissioning, zone 1$/, /^expected$/]],
  ["the owner's card", [/^Owner's card$/, /^Through the year$/, /^Before frost/]],
];

test.each(MUSTS)('the printed set holds: %s', (_, phrases) => {
  for (const phrase of phrases) expect(says(phrase), String(phrase)).toBe(true);
});

test('the one-call number of the plan stands first among the cautions', async () => {
  const called = fixtureDesign((plan) => ({
    ...plan,
    project: { ...plan.project, oneCallNumber: '811' },
  }));
  const [page] = await readPages(renderPdf(drawSheetSet(called, { paper: 'tabloid' }), fonts));
  expect(page!.texts.map((text) => text.text)).toContain(
    'Have buried utilities located before digging: call 811.',
  );
});

test('every change of the plan is listed with its mark and date, the last in the title too', async () => {
  const changed = fixtureDesign((plan) => ({
    ...plan,
    project: {
      ...plan.project,
      revisions: [
        { mark: '1', date: '2026-05-20', text: 'First issue' },
        { mark: '2', date: '2026-06-02', text: 'Sleeve moved' },
      ],
    },
  }));
  const pages = await readPages(renderPdf(drawSheetSet(changed, { paper: 'tabloid' }), fonts));
  const all = pages.flatMap((page) => page.texts.map((text) => text.text));
  for (const said of [
    'Changes',
    '2026-05-20',
    'First issue',
    '2026-06-02',
    'Sleeve moved',
    '2  Sleeve moved',
  ])
    expect(all.map((text) => text.replace(/\s+/g, ' '))).toContain(said.replace(/\s+/g, ' '));
});

test('no inner id is printed on the sheet or the calculations', async () => {
  const calculations = await readPages(renderPdf(drawCalculations(design), fonts));
  const figures = calculations.flatMap((page) => page.texts.map((text) => text.text));
  const ids = new Set([
    ...design.supply.zones.map((zone) => zone.id),
    ...design.beds.flatMap((bed) => [bed.id, ...bed.layout.runs.map((run) => run.id)]),
  ]);
  for (const text of [...texts, ...figures])
    for (const word of text.split(/[\s(),;]+/)) expect(ids.has(word), `${word} in "${text}"`).toBe(false);
});
