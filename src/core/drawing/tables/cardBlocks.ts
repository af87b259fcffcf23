import type { Design } from '../../design';
import { type UpkeepSeason, type UpkeepTask, upkeepTasks } from '../../soilwater';
import { HEAD_M_PER_PSI, type Printer } from '../../units';
import { drawingWords, figureName, isUnpublished, sentenceOf, starOf, sheetText as words } from '../../words';
import { type Block, type Part, paragraphParts } from '../blocks';
import { devicesOf } from '../devices';
import { bedsOfZone, pressureAlongM, pressureAtNodeM } from '../figures';
import { flushMark } from '../names';
import { tableBlock } from '../table';
import type { Ties } from '../ties';
import { orderBlock } from './noteBlocks';

const MARK = { layer: 'tables' };
/** A reading may differ by so much, 2 psi: common practice, no source. */
const READING_TOLERANCE_M = 2 * HEAD_M_PER_PSI;

function textBlock(key: string, title: string, paragraphs: readonly string[]): Block {
  return {
    key,
    title,
    head: () => [],
    parts: (widthMm): readonly Part[] => paragraphs.flatMap((text) => paragraphParts(MARK, text, widthMm)),
  };
}

/** What the calendar rests on that no published source stands behind; empty where all is published or the designer's own. */
function restsOn(design: Design): string {
  const traces = design.schedule.traces.filter(({ source }) => isUnpublished(source));
  const names = [...new Set(traces.map(({ code }) => figureName(code).toLowerCase()))];
  return names.length === 0 ? '' : words.restsOn(names);
}

/** Minutes by month for every zone: "3 x 9, 4 days" is three cycles of nine minutes on four days a week. */
export function calendarBlock(design: Design): Block | null {
  const zones = [...design.supply.zones].sort((a, b) => a.number - b.number);
  const schedules = zones.map((zone) => design.schedule.zones.find((s) => s.zoneId === zone.id));
  if (schedules.every((s) => s === undefined)) return null;
  return tableBlock({
    key: 'calendar',
    title: words.tables.calendar,
    columns: [
      { title: words.heads.month },
      ...zones.map((zone) => ({ title: `V${zone.number}`, align: 'end' as const })),
    ],
    foot: restsOn(design),
    rows: words.months.map((month, i) => [
      month,
      ...schedules.map((schedule) => {
        const m = schedule?.months.find((one) => one.month === i + 1);
        if (!m || m.minutesPerDay === 0) return '–';
        return words.minutes(m.cycles, m.minutesPerCycle, m.daysPerWeek);
      }),
    ]),
  });
}

/** The first weeks after planting. */
export function establishmentBlock(design: Design): Block | null {
  const zones = [...design.supply.zones].sort((a, b) => a.number - b.number);
  const schedules = zones.map((zone) => design.schedule.zones.find((s) => s.zoneId === zone.id));
  const weeks = Math.max(0, ...schedules.map((s) => s?.establishment.length ?? 0));
  if (weeks === 0) return null;
  return tableBlock({
    key: 'establishment',
    title: `${words.tables.establishment}*`,
    columns: [
      { title: words.heads.week },
      ...zones.map((zone) => ({ title: `V${zone.number}`, align: 'end' as const })),
    ],
    foot: words.starNote,
    rows: Array.from({ length: weeks }, (_, i) => [
      String(i + 1),
      ...schedules.map((schedule) => {
        const week = schedule?.establishment[i];
        return week ? words.minutes(week.cycles, week.minutesPerCycle, week.daysPerWeek) : '–';
      }),
    ]),
  });
}

/** Where valves and flush valves are, in two tapes. */
export function whereBlock(design: Design, ties: Ties, print: Printer): Block {
  const kept = ties.ties.filter((tie) =>
    [
      ...design.supply.zones.map((z) => z.assemblyAt),
      ...design.supply.zones.flatMap((z) => z.flush.map((f) => f.at)),
      ...devicesOf(design.supply)
        .filter(({ kind }) => kind === 'drain-point')
        .map(({ at }) => at),
    ].some((p) => p.x === tie.at.x && p.y === tie.at.y),
  );
  const table = tableBlock({
    key: 'where',
    title: words.tables.where,
    columns: [
      { title: words.heads.point },
      { title: words.heads.from('F1'), align: 'end' },
      { title: words.heads.from('F2'), align: 'end' },
    ],
    rows: kept.map((tie) => [tie.what, print.length(tie.firstM), print.length(tie.secondM)]),
  });
  const note = ties.fixed ? words.fixedAre(ties.fixed[0].what, ties.fixed[1].what) : words.noFixed;
  return { ...table, parts: (widthMm) => [...table.parts(widthMm), ...paragraphParts(MARK, note, widthMm)] };
}

/** What the owner does in the first season, every year and before frost; a star where no published source stands behind it. */
export function upkeepBlocks(design: Design, print: Printer): readonly Block[] {
  const tasks = upkeepTasks(design.plan);
  const say = ({ code, params, source }: UpkeepTask): string => {
    const said = sentenceOf(code)?.(params, print);
    return said ? `${said.what} ${said.why}${starOf(source)}` : '';
  };
  const block = (season: UpkeepSeason, notes: readonly string[] = []): Block =>
    textBlock(`upkeep-${season}`, words.upkeep[season], [
      ...tasks.filter((task) => task.season === season).map(say),
      ...notes,
    ]);
  return [block('first-season'), block('every-year'), block('before-frost', [words.starNote])];
}

/** Which valve feeds which bed, in the owner's words. */
export function ownerZoneBlock(design: Design, print: Printer): Block {
  return tableBlock({
    key: 'owner-zones',
    title: words.tables.zones,
    flexible: 1,
    columns: [
      { title: words.heads.zone, bold: true },
      { title: words.heads.beds },
      { title: words.heads.flow, align: 'end', water: true },
    ],
    rows: [...design.supply.zones]
      .sort((a, b) => a.number - b.number)
      .map((zone) => [
        `V${zone.number}`,
        bedsOfZone(design, zone)
          .map((bed) => bed.name)
          .join(', '),
        print.flow(zone.flowM3s),
      ]),
  });
}

/** Expected readings of each zone with ruled blanks for what was found. */
export function commissioningBlocks(design: Design, print: Printer): readonly Block[] {
  const { heads } = words;
  const columns = [
    { title: heads.where },
    { title: heads.expected, align: 'end' as const, water: true },
    { title: heads.found, align: 'end' as const, leastMm: 20 },
    { title: words.fill.initials, align: 'end' as const, leastMm: 14 },
  ];
  const zones = [...design.supply.zones].sort((a, b) => a.number - b.number);
  const pressure = (headM: number | null): string => (headM === null ? '' : print.pressure(headM));
  const blank = '';
  return [
    textBlock('commissioning-note', drawingWords.pages.commissioning, [
      words.commissioningNote(print.pressure(READING_TOLERANCE_M)),
    ]),
    orderBlock(),
    ...zones.map((zone) =>
      tableBlock({
        key: `commissioning-${zone.id}`,
        title: words.tables.commissioning(zone.number),
        columns,
        ruled: true,
        rows: [
          [
            words.readingInlet(zone.number),
            pressure(pressureAtNodeM(zone, zone.readAt.regulatorInlet)),
            blank,
            blank,
          ],
          [
            words.readingRegulator(zone.number),
            pressure(pressureAtNodeM(zone, zone.readAt.afterRegulator)),
            blank,
            blank,
          ],
          ...zone.flush.map((flush) => {
            return [
              words.readingFlush(flushMark(design, flush.runId)),
              pressure(pressureAlongM(zone, flush.runId, flush.distanceM)),
              blank,
              blank,
            ];
          }),
          [words.readingMeter(zone.number), print.flow(zone.flowM3s), blank, blank],
          ...zone.flush.map((flush) => {
            return [
              words.flushSpeed(flushMark(design, flush.runId)),
              print.velocity(flush.endVelocityMs),
              blank,
              blank,
            ];
          }),
        ],
      }),
    ),
  ];
}
