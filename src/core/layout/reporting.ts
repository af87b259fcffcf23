import type { CleanOutline } from '../geometry';
import type { Problem, Severity } from '../units';
import type { Choice } from './choosing';
import { type Judged, leadLengthM, pastWettedM } from './judging';
import type { BedPart } from './parts';
import type { LayoutInput } from './types';

/** Coverage below this is said aloud. */
const WANTED_COVERAGE_RATIO = 0.99;
const WIDE_GAP_ROWS = 0.85;
const LONG_LEAD_M = 0.3;

const problem = (
  code: string,
  severity: Severity,
  id: string,
  params: Problem['params'],
  more: Partial<Problem> = {},
): Problem => ({ code, severity, where: { id }, params, ...more });

/** What was mended in a drawn outline, each mend a warning so that the drawing can be put right. */
export function repairProblems(input: LayoutInput, clean: CleanOutline): Problem[] {
  const problems: Problem[] = [];
  if (clean.repeatedPoints > 0)
    problems.push(problem('layout.repeated-points', 'warn', input.bedId, { count: clean.repeatedPoints }));
  if (clean.isSplit)
    problems.push(problem('layout.split-outline', 'warn', input.bedId, { count: clean.parts.length }));
  for (const hole of clean.holesOutside)
    problems.push(problem('layout.hole-outside', 'warn', input.bedId, { index: hole }));
  return problems;
}

/** What the designer asked for and did not get, and what was taken instead. */
export function choiceProblems(
  part: BedPart,
  input: LayoutInput,
  wish: Choice['wish'],
  chosen: Judged,
): Problem[] {
  if (wish !== 'not-possible') return [];
  const asked = input.chosenAlternative ?? input.layout ?? '';
  return [problem('layout.choice-not-possible', 'warn', part.id, { asked, taken: chosen.alternative.key })];
}

/** Rows stretched further would take less tubing, but the wet ground would not join between them: said once, with the figures. */
export function stretchProblems(
  part: BedPart,
  input: LayoutInput,
  chosen: Judged,
  others: readonly Judged[],
): Problem[] {
  const held = others.find(
    ({ alternative }) =>
      alternative.lengthM < chosen.alternative.lengthM && pastWettedM(alternative.rowSpacingM, input) > 0,
  );
  if (!held) return [];
  return [
    problem('layout.stretch-held-back', 'note', part.id, {
      rowSpacingM: held.alternative.rowSpacingM,
      lengthM: held.alternative.lengthM,
      wettedDiameterM: input.wettedDiameterM,
    }),
  ];
}

/** What a person should know of the layout as laid. */
export function layoutProblems(part: BedPart, input: LayoutInput, chosen: Judged): Problem[] {
  const { alternative, verification } = chosen;
  const problems: Problem[] = [];
  const note = (
    code: string,
    severity: Severity,
    params: Problem['params'],
    more: Partial<Problem> = {},
  ): void => {
    problems.push(problem(code, severity, part.id, params, more));
  };
  if (!verification.passed) note('layout.locked-fails', 'stop', { failures: verification.failures });
  const { coveredRatio, maxGapM, gaps } = alternative.coverage;
  const worst = gaps[0];
  const at = worst ? { where: { id: part.id, x: worst.x, y: worst.y } } : {};
  if (coveredRatio < WANTED_COVERAGE_RATIO)
    note(
      'layout.coverage-short',
      'warn',
      { coveredRatio, dryM2: (1 - coveredRatio) * part.usableAreaM2 },
      {
        ...at,
        value: coveredRatio,
        limit: WANTED_COVERAGE_RATIO,
        unit: 'ratio',
      },
    );
  else if (maxGapM > WIDE_GAP_ROWS * alternative.rowSpacingM)
    note(
      'layout.gap-wide',
      'warn',
      { gapM: maxGapM, rowSpacingM: alternative.rowSpacingM },
      {
        ...at,
        value: maxGapM,
        limit: WIDE_GAP_ROWS * alternative.rowSpacingM,
        unit: 'm',
      },
    );
  const loops = alternative.runs.filter((run) => run.role === 'loop');
  const longest = loops.reduce((most, run) => Math.max(most, run.lengthM), 0);
  if (input.maxRunM !== null && longest > input.maxRunM)
    note(
      'layout.run-too-long',
      'warn',
      { lengthM: longest, limitM: input.maxRunM },
      {
        value: longest,
        limit: input.maxRunM,
        unit: 'm',
        source: {
          text: 'longest run set for the bed, else the longest that keeps the wanted uniformity, solved; evenness by Keller and Karmeli (1974)',
          standing: 'ours',
        },
      },
    );
  if (loops.length > 1) note('layout.several-loops', 'note', { count: loops.length, longestM: longest });
  if (alternative.stretchRatio > 0.005 && pastWettedM(alternative.rowSpacingM, input) === 0)
    note('layout.rows-stretched', 'note', {
      stretchRatio: alternative.stretchRatio,
      rowSpacingM: alternative.rowSpacingM,
      nominalM: input.rowSpacingM,
    });
  if (pastWettedM(alternative.rowSpacingM, input) > 0)
    note('layout.rows-past-wetted', 'warn', {
      rowSpacingM: alternative.rowSpacingM,
      wettedDiameterM: input.wettedDiameterM,
    });
  const leads = alternative.runs.filter((run) => run.role === 'lead');
  if (part.routable.length > 1 && leads.length > 1)
    note('layout.several-feeds', 'note', {
      count: leads.length - 1,
      lengthM: leads.slice(1).reduce((sum, run) => sum + run.lengthM, 0),
    });
  const leadM = leadLengthM(chosen);
  if (leadM > LONG_LEAD_M) note('layout.long-lead', 'note', { lengthM: leadM });
  note('layout.rule-of-thumb', 'note', {
    thumbM: part.areaM2 / input.rowSpacingM,
    lengthM: alternative.lengthM,
    differenceM: alternative.lengthM - part.areaM2 / input.rowSpacingM,
  });
  return problems;
}
