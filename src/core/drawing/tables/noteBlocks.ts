import { setting, settingSource } from '../../catalog';
import type { Design } from '../../design';
import { SPLICE_FROM_TEE_M, stapleSource, stapleSpacingM } from '../../takeoff';
import type { Printer } from '../../units';
import { starOf, sheetText as words } from '../../words';
import { type Block, gapPart, LINE_MM, type Part, paragraphParts } from '../blocks';
import { sayFinding, shownFindings } from '../findingMarks';
import { printedNames } from '../names';
import { SIZE, textItem } from '../pen';
import { signPart } from '../signatures';
import { symbolItems } from '../symbols';
import { tableBlock } from '../table';
import { wrapText } from '../text';

const MARK = { layer: 'tables' };
/** How far a crew may move a row without asking, 6 in: common practice, no source. */
const MAY_SHIFT_M = 0.1524;

/** Sentences one under the other, each after a mark of its own. */
function listBlock(
  key: string,
  title: string,
  items: readonly {
    readonly text: string;
    /** Stands between the symbol and the text. */
    readonly number?: number;
    readonly symbol?: 'problem-stop' | 'problem-check' | 'problem-note';
  }[],
  numbered = false,
): Block {
  return {
    key,
    title,
    head: () => [],
    parts: (widthMm) =>
      items.map((item, i): Part => {
        const indent = item.number !== undefined ? 8 : numbered || item.symbol ? 5 : 3;
        const lines = wrapText(item.text, 'narrow', SIZE.note, widthMm - indent);
        return {
          heightMm: lines.length * LINE_MM + 0.7,
          draw: (x, y) => [
            ...(item.symbol
              ? symbolItems(
                  { ...MARK, group: `list:${key}:${i}` },
                  item.symbol,
                  { x: x + 1.6, y: y + 1.75 },
                  3,
                )
              : [
                  textItem(MARK, { x, y: y + 2.5 }, numbered ? `${i + 1}` : '–', {
                    font: numbered ? 'narrow-semibold' : 'narrow',
                    sizeMm: SIZE.note,
                  }),
                ]),
            ...(item.number === undefined
              ? []
              : [
                  textItem(MARK, { x: x + 5, y: y + 2.5 }, String(item.number), {
                    font: 'narrow-semibold',
                    sizeMm: SIZE.note,
                  }),
                ]),
            ...lines.map((line, k) =>
              textItem(MARK, { x: x + indent, y: y + 2.5 + k * LINE_MM }, line, { sizeMm: SIZE.note }),
            ),
          ],
        };
      }),
  };
}

/** Cautions: what can hurt someone comes first, with local code and licensed trade ahead of this sheet. */
export function careBlock(design: Design): Block {
  const { project, sources } = design.plan;
  const [locate, ...others] = words.care;
  const stop = design.findings.some((f) => f.severity === 'stop');
  const stops = [
    ...(stop ? [words.careStop] : []),
    project.oneCallNumber.trim() === '' ? locate : words.careCall(project.oneCallNumber),
    ...(design.supply.crossings.length > 0 ? [words.careCrossing(design.supply.crossings.length)] : []),
    ...(Object.values(sources).some((s) => s.water === 'recycled') ? [words.careRecycled] : []),
  ];
  return listBlock('care', words.tables.care, [
    ...stops.map((text) => ({ text, symbol: 'problem-stop' as const })),
    ...others.map((text) => ({ text, symbol: 'problem-check' as const })),
  ]);
}

/** General notes with the depths, spacings and radii of this plan. */
export function noteBlock(design: Design, print: Printer): Block {
  const { settings } = design.plan;
  const soils = [...new Set(design.beds.map((bed) => bed.choice.soil))].sort();
  const driplines = [
    ...new Map(design.beds.map((bed) => [bed.choice.dripline.id, bed.choice.dripline])).values(),
  ];
  const depths = (key: 'headerDepthM' | 'mainDepthM' | 'sleeveDepthM') =>
    `${print.small(setting(settings, key))}${starOf(settingSource(settings, key))}`;
  return listBlock(
    'notes',
    words.tables.notes,
    [
      ...driplines.map(
        (d) =>
          `${words.noteTubing(print.emitterFlow(d.emitterFlowM3s), print.small(d.emitterSpacingM))}${starOf(d.source)}`,
      ),
      ...driplines
        .slice(0, 1)
        .map((d) => `${words.noteBend(print.small(d.minBendRadiusM))}${starOf(d.source)}`),
      ...soils.map(
        (soil) =>
          `${words.staples(soil.replace(/-/g, ' '), print.small(stapleSpacingM(soil, settings)))}${starOf(stapleSource(soil, settings))}`,
      ),
      words.noteDepths(depths('headerDepthM'), depths('mainDepthM'), depths('sleeveDepthM')),
      words.noteFilter,
      words.noteNarrow,
      words.noteRoot(print.small(setting(settings, 'offsetObstacleM'))),
      words.noteSplice(print.small(SPLICE_FROM_TEE_M)),
      words.noteFlushBox,
      `${words.noteFlush(print.velocity(setting(settings, 'flushVelocityMs')))}${starOf(settingSource(settings, 'flushVelocityMs'))}`,
      `${words.noteMulch(print.small(setting(settings, 'mulchDepthM')))}${starOf(settingSource(settings, 'mulchDepthM'))}`,
      ...design.beds.flatMap((bed) => {
        const slope = design.plan.beds[bed.sourceBedId]?.slopeRatio ?? 0;
        return slope >= setting(settings, 'stapleSteepSlopeRatio')
          ? [words.noteSlope(bed.name, print.percent(slope))]
          : [];
      }),
    ]
      .filter((text, i, all) => all.indexOf(text) === i)
      .concat(words.starNote)
      .map((text) => ({ text })),
    true,
  );
}

/** The crew's order of work. */
export const orderBlock = (): Block =>
  listBlock(
    'order',
    words.tables.order,
    words.order.map((text) => ({ text })),
    true,
  );
/** What may be changed on site without a call. */
export const mayBlock = (print: Printer): Block =>
  listBlock(
    'may',
    words.tables.may,
    words.may(print.small(MAY_SHIFT_M), print.small(SPLICE_FROM_TEE_M)).map((text) => ({ text })),
  );
/** What may not. */
export const askBlock = (): Block =>
  listBlock(
    'ask',
    words.tables.ask,
    words.ask.map((text) => ({ text })),
  );

/** The statement a plan checker wants signed, with licence and signature lines. */
export function checkerBlock(): Block {
  return {
    key: 'checker',
    title: words.tables.checker,
    head: () => [],
    parts: (widthMm) => [
      ...paragraphParts(MARK, words.checker, widthMm),
      ...paragraphParts(MARK, words.checkerNote, widthMm),
      gapPart(3),
      signPart([words.fill.signed, words.fill.licence, words.fill.date], widthMm),
    ],
  };
}

/** Findings that stop or want a look, each with what to do next; notes are left to the calculations. */
export function findingBlock(design: Design, print: Printer): Block | null {
  const shown = shownFindings(design);
  if (shown.length === 0) return null;
  const names = printedNames(design);
  return listBlock(
    'findings',
    words.tables.findings,
    shown.map((problem, i) => {
      const said = sayFinding(problem, print, names);
      return {
        text: `${said.what} ${said.next}`.trim(),
        number: i + 1,
        symbol: problem.severity === 'stop' ? ('problem-stop' as const) : ('problem-check' as const),
      };
    }),
  );
}

/** Every change of the sheet. */
export function revisionBlock(design: Design): Block | null {
  const { revisions } = design.plan.project;
  if (revisions.length === 0) return null;
  return tableBlock({
    key: 'revisions',
    title: words.tables.revisions,
    flexible: 2,
    columns: [
      { title: words.heads.mark, bold: true },
      { title: words.heads.date },
      { title: words.heads.change },
    ],
    rows: revisions.map((r) => [r.mark, r.date, r.text]),
  });
}
