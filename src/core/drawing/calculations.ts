import type { Design } from '../design';
import { type Printer, printer, type Traced } from '../units';
import { drawingWords, figureName, calculationText as words } from '../words';
import { type Block, LINE_MM, type Part } from './blocks';
import { sayFinding } from './findingMarks';
import { flowPages } from './flow';
import { portraitFrame } from './frame';
import { type PrintedNames, printedNames, tellNames } from './names';
import { PAPERS, type Paper } from './papers';
import { SIZE, textItem } from './pen';
import { plotBlocks } from './plots';
import { withPrintedBeds } from './printedBeds';
import { quantityText } from './quantities';
import { type BarePage, finishPages, LAYERS } from './sheetSet';
import { tableBlock } from './table';
import { calendarBlock } from './tables/cardBlocks';
import { checkerBlock } from './tables/noteBlocks';
import { partSourceBlock } from './tables/partSources';
import { wrapText } from './text';
import type { DrawingList } from './types';

const MARK = { layer: 'tables' };

/** One figure: its name and value, the formula, every input with where it is from, the source. Kept whole on a page. */
function tracePart(trace: Traced, widthMm: number, print: Printer, names: PrintedNames): Part {
  const isWater = ['m of head', 'm3/s', 'm/s'].includes(trace.result.unit);
  const inputs = trace.inputs
    .map((input) => {
      const value = `${input.name} ${quantityText(input.quantity, print)}`;
      return input.from ? words.from(value, tellNames(input.from, names)) : value;
    })
    .join('; ');
  const left = widthMm - 4;
  const formula = wrapText(trace.formula, 'narrow', SIZE.note, left);
  const given = inputs === '' ? [] : wrapText(inputs, 'narrow', SIZE.note, left);
  const source = wrapText(words.source(trace.source), 'narrow', SIZE.small, left);
  const lines = [
    ...formula.map((text) => ({ text, sizeMm: SIZE.note, ink: 'ink' as const })),
    ...given.map((text) => ({ text, sizeMm: SIZE.note, ink: 'ink-2' as const })),
    ...source.map((text) => ({ text, sizeMm: SIZE.small, ink: 'ink-3' as const })),
  ];
  return {
    heightMm: (lines.length + 1) * LINE_MM + 1.8,
    draw: (x, y) => [
      textItem(MARK, { x, y: y + 2.5 }, figureName(trace.code), {
        font: 'narrow-semibold',
        sizeMm: SIZE.note,
      }),
      textItem(MARK, { x: x + widthMm, y: y + 2.5 }, quantityText(trace.result, print), {
        font: isWater ? 'narrow-semibold-italic' : 'narrow-semibold',
        sizeMm: SIZE.note,
        ink: isWater ? 'water' : 'ink',
        anchor: 'end',
      }),
      ...lines.map((line, i) =>
        textItem(MARK, { x: x + 4, y: y + 2.5 + (i + 1) * LINE_MM }, line.text, {
          sizeMm: line.sizeMm,
          ink: line.ink,
        }),
      ),
    ],
  };
}

function traceBlock(
  key: string,
  title: string,
  traces: readonly Traced[],
  print: Printer,
  names: PrintedNames,
): Block | null {
  if (traces.length === 0) return null;
  return {
    key,
    title,
    head: () => [],
    parts: (widthMm) => traces.map((trace) => tracePart(trace, widthMm, print, names)),
  };
}

/** The same figure of two beds is printed once. */
function onceEach(traces: readonly Traced[]): readonly Traced[] {
  const seen = new Set<string>();
  return traces.filter((trace) => {
    const key = JSON.stringify(trace);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** What was measured at the source, with blanks named where nothing was. */
function measuredBlock(design: Design, print: Printer): Block | null {
  const source = Object.values(design.plan.sources)[0];
  if (!source) return null;
  const { sourceRows } = words;
  const say = (value: number | null, text: (n: number) => string): string =>
    value === null ? words.notMeasured : text(value);
  return tableBlock({
    key: 'measured',
    title: words.measured,
    columns: [{ title: words.heads.what }, { title: words.heads.value, align: 'end', water: true }],
    rows: [
      [sourceRows.water, source.water],
      [sourceRows.static, say(source.staticHeadM, print.pressure)],
      [sourceRows.lowest, say(source.lowestStaticHeadM, print.pressure)],
      [sourceRows.highest, say(source.highestStaticHeadM, print.pressure)],
      [sourceRows.testFlow, say(source.flowTestM3s, print.flow)],
      [sourceRows.testHead, say(source.flowTestHeadM, print.pressure)],
      [sourceRows.meter, say(source.meterSizeM, print.small)],
      [sourceRows.service, say(source.serviceDiameterM, print.small)],
      [sourceRows.on, source.measuredOn ?? words.notMeasured],
      [sourceRows.by, source.measuredBy ?? words.notMeasured],
    ],
  });
}

/** Emitter pressures, uniformity and flushing of every zone, as solved. */
function uniformityBlock(design: Design, print: Printer): Block {
  const { heads } = words;
  return tableBlock({
    key: 'uniformity',
    title: words.uniformity,
    columns: [
      { title: heads.zone, bold: true },
      { title: heads.lowest, align: 'end', water: true },
      { title: heads.mean, align: 'end', water: true },
      { title: heads.highest, align: 'end', water: true },
      { title: heads.eu, align: 'end' },
      { title: heads.du, align: 'end' },
      { title: heads.su, align: 'end' },
      { title: heads.flush, align: 'end', water: true },
    ],
    rows: [...design.supply.zones]
      .sort((a, b) => a.number - b.number)
      .map((zone) => [
        `V${zone.number}`,
        print.pressure(zone.emitterHeadM.min),
        print.pressure(zone.emitterHeadM.mean),
        print.pressure(zone.emitterHeadM.max),
        print.percent(zone.emissionUniformity),
        print.percent(zone.distributionUniformity),
        print.percent(zone.statisticalUniformity),
        zone.flush.length === 0 ? '' : print.velocity(Math.min(...zone.flush.map((f) => f.endVelocityMs))),
      ]),
  });
}

/** Every finding and assumption with its value, limit and source. */
function assumptionBlock(design: Design, print: Printer, names: PrintedNames): Block | null {
  if (design.findings.length === 0) return null;
  return tableBlock({
    key: 'assumptions',
    title: words.assumptions,
    flexible: 1,
    columns: [{ title: '' }, { title: words.heads.what }],
    rows: design.findings.map((finding) => {
      const said = sayFinding(finding, print, names);
      const source = finding.source ? words.source(finding.source) : '';
      return [finding.severity, `${said.what} ${source}`.trim()];
    }),
  });
}

/** The water-budget page of a plan checker: every hydrozone with its factors, then allowance against use. */
function budgetBlocks(design: Design, print: Printer): readonly Block[] {
  const b = design.waterBudget;
  const { heads, budgetRows } = words;
  const numbers = new Map(design.supply.zones.map((zone) => [zone.id, `V${zone.number}`]));
  const holds = (is: boolean): string => (is ? words.holds : words.holdsNot);
  return [
    tableBlock({
      key: 'hydrozones',
      title: words.budget,
      columns: [
        { title: heads.name },
        { title: heads.zone },
        { title: heads.factor, align: 'end' },
        { title: heads.efficiency, align: 'end' },
        { title: heads.etaf, align: 'end' },
        { title: heads.area, align: 'end' },
        { title: heads.use, align: 'end', water: true },
        { title: heads.special, align: 'end' },
      ],
      rows: b.hydrozones.map((h) => [
        h.name,
        numbers.get(h.zoneId) ?? h.zoneId,
        h.plantFactor.toFixed(2),
        h.irrigationEfficiency.toFixed(2),
        h.etafRatio.toFixed(2),
        print.area(h.areaM2),
        print.volume(h.etwuM3),
        h.special ? words.yes : '',
      ]),
    }),
    tableBlock({
      key: 'budget-totals',
      title: words.budgetTotals,
      columns: [{ title: heads.what }, { title: heads.value, align: 'end' }],
      rows: [
        [budgetRows.region, b.regionName],
        [budgetRows.eto, print.water(b.annualEtM)],
        [budgetRows.area, print.area(b.landscapeAreaM2)],
        [budgetRows.specialArea, print.area(b.specialAreaM2)],
        [budgetRows.average, b.averageEtafRatio.toFixed(2)],
        [budgetRows.limit, b.limitEtafRatio.toFixed(2)],
        [budgetRows.sitewide, b.sitewideEtafRatio.toFixed(2)],
        [budgetRows.allowance, print.volume(b.allowanceM3)],
        [budgetRows.use, print.volume(b.estimatedUseM3)],
        [budgetRows.saving, print.volume(b.savingAgainstSprayM3)],
        [budgetRows.averageHolds, holds(b.averageHolds)],
        [budgetRows.allowanceHolds, holds(b.allowanceHolds)],
      ],
    }),
  ];
}

/** A page of calculations is read at a desk, its sources in the smallest letters of all. */
const CALCULATION_TYPE = 1.3;
const LEAST_TYPE = 1.15;

const portraitPages = (
  key: string,
  title: string,
  blocks: readonly (Block | null)[],
  paper: Paper,
): readonly BarePage[] =>
  flowPages(
    key,
    title,
    blocks.filter((block): block is Block => block !== null),
    paper,
    { ...portraitFrame(paper), largestType: CALCULATION_TYPE, leastType: LEAST_TYPE },
  );

/** The calculations for a plan checker: every traced figure with formula, inputs and source, and the water budget. Standing letter or A4. */
export function drawCalculations(given: Design): DrawingList {
  const design = withPrintedBeds(given);
  const { plan } = design;
  const print = printer(plan.display.units);
  const names = printedNames(design);
  const lying = plan.display.units === 'us' ? PAPERS.letter : PAPERS.a4;
  const paper: Paper = { ...lying, widthMm: lying.heightMm, heightMm: lying.widthMm };
  const own = new Set<Traced>([
    ...design.beds.flatMap((bed) => bed.choice.traces),
    ...design.supply.zones.flatMap((z) => z.traces),
    ...design.schedule.traces,
    ...design.waterBudget.traces,
  ]);
  const pages = [
    ...portraitPages(
      'calculations',
      drawingWords.pages.calculations,
      [
        measuredBlock(design, print),
        uniformityBlock(design, print),
        traceBlock('site', words.site, onceEach(design.traces.filter((t) => !own.has(t))), print, names),
        ...design.beds.map((bed) =>
          traceBlock(bed.id, words.bed(bed.mark, bed.name), bed.choice.traces, print, names),
        ),
        ...design.supply.zones.map((zone) =>
          traceBlock(zone.id, words.zone(zone.number), zone.traces, print, names),
        ),
        traceBlock('calendar-traces', words.calendar, design.schedule.traces, print, names),
        calendarBlock(design),
        ...plotBlocks(design),
        partSourceBlock(design),
        assumptionBlock(design, print, names),
      ],
      paper,
    ),
    ...portraitPages(
      'budget',
      drawingWords.pages.budget,
      [
        ...budgetBlocks(design, print),
        traceBlock('budget-traces', words.budget, design.waterBudget.traces, print, names),
        checkerBlock(),
      ],
      paper,
    ),
  ];
  return {
    title: plan.project.title,
    author: plan.project.designer,
    subject: drawingWords.pages.calculations,
    keywords: drawingWords.keywords,
    layers: LAYERS,
    pages: finishPages(design, pages, 'C'),
  };
}
