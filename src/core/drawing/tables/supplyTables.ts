import { settingSource } from '../../catalog';
import type { Design } from '../../design';
import type { HeaderPipe, Sleeve, Zone } from '../../supply';
import type { Printer } from '../../units';
import { drawingWords, isUnpublished, starOf, sheetText as words } from '../../words';
import type { Block } from '../blocks';
import { bedsOfZone, pressureAlongM, pressureAtNodeM } from '../figures';
import { flushMark, printedNames } from '../names';
import { signPart } from '../signatures';
import { tableBlock } from '../table';

const byNumber = (zones: readonly Zone[]): readonly Zone[] => [...zones].sort((a, b) => a.number - b.number);
const marksOf = (design: Design, zone: Zone): string =>
  bedsOfZone(design, zone)
    .map((bed) => bed.mark)
    .join(', ');

/** Ground that a zone waters: its beds, of one that several zones share the part that its emitters are of all. */
function zoneAreaM2(design: Design, zone: Zone): number {
  const own = new Set(zone.emitters.runIds);
  return bedsOfZone(design, zone).reduce((sum, { layout }) => {
    const count = (isCounted: (runId: string) => boolean): number =>
      layout.runs.reduce((total, run) => total + (isCounted(run.id) ? run.emittersM.length : 0), 0);
    const all = count(() => true);
    return sum + (all === 0 ? layout.areaM2 : (layout.areaM2 * count((id) => own.has(id))) / all);
  }, 0);
}

/** Zone schedule: what each valve feeds, on what area and how fast, and what pressure it needs and has. */
export function zoneBlock(design: Design, print: Printer): Block {
  const { heads } = words;
  return tableBlock({
    key: 'zones',
    title: words.tables.zones,
    flexible: 1,
    columns: [
      { title: heads.zone, bold: true },
      { title: heads.beds },
      { title: heads.area, align: 'end' },
      { title: heads.flow, align: 'end', water: true },
      { title: heads.rate, align: 'end', water: true },
      { title: heads.needs, align: 'end', water: true },
      { title: heads.available, align: 'end', water: true },
      { title: heads.spare, align: 'end', water: true },
    ],
    rows: byNumber(design.supply.zones).map((zone) => {
      const watered = design.schedule.zones.find(({ zoneId }) => zoneId === zone.id);
      return [
        `V${zone.number}`,
        marksOf(design, zone),
        print.area(zoneAreaM2(design, zone)),
        print.flow(zone.flowM3s),
        watered ? print.rate(watered.applicationRateMs) : '',
        print.pressure(zone.requiredSourceHeadM),
        print.pressure(zone.availableSourceHeadM),
        print.pressure(zone.availableSourceHeadM - zone.requiredSourceHeadM),
      ];
    }),
  });
}

/** The month with the longest runs of any zone, 0 to 11; July where there is no calendar. */
export function peakMonth(design: Design): number {
  const minutes = Array.from({ length: 12 }, (_, month) =>
    design.schedule.zones.reduce((sum, zone) => {
      const m = zone.months.find((one) => one.month === month + 1);
      return sum + (m ? m.minutesPerDay * m.daysPerWeek : 0);
    }, 0),
  );
  const most = Math.max(...minutes);
  return most > 0 ? minutes.indexOf(most) : 6;
}

/** True where nothing published stands behind the row spacing of a bed. */
const isByPractice = ({ choice }: Design['beds'][number]): boolean =>
  choice.reasons.some(
    ({ code, source }) =>
      code.startsWith('soilwater.row-spacing') && source !== undefined && isUnpublished(source),
  );

/** Assembly, station, tubing and run time of each zone; of a bed that several zones share, each zone's own runs. Stations are wired in the order of the zones. */
export function assemblyBlock(design: Design, print: Printer): Block {
  const { heads } = words;
  const peak = peakMonth(design);
  const names = printedNames(design);
  const isStarred =
    design.supply.zones.some(({ assembly }) => isUnpublished(assembly.source)) ||
    design.beds.some(isByPractice);
  const hasController = Object.keys(design.plan.controllers).length > 0;
  return tableBlock({
    key: 'assemblies',
    title: words.tables.assemblies,
    flexible: 1,
    columns: [
      { title: heads.zone, bold: true },
      { title: heads.assembly },
      { title: heads.station, align: 'end' },
      { title: heads.tubing, align: 'end' },
      { title: heads.emitters, align: 'end' },
      { title: heads.rows, align: 'end' },
      { title: heads.peakIn(words.months[peak]!), align: 'end' },
    ],
    rows: byNumber(design.supply.zones).map((zone) => {
      const beds = bedsOfZone(design, zone);
      const own = new Set(zone.emitters.runIds);
      const lengthM = beds
        .flatMap((bed) => bed.layout.runs)
        .reduce((sum, run) => sum + (run.emittersM.length > 0 && own.has(run.id) ? run.lengthM : 0), 0);
      const spacings = [
        ...new Set(
          beds.map(
            (bed) =>
              `${print.small(bed.layout.rowSpacingM)}, ${print.small(bed.choice.dripline.emitterSpacingM)}`,
          ),
        ),
      ];
      const month = design.schedule.zones
        .find((s) => s.zoneId === zone.id)
        ?.months.find((m) => m.month === peak + 1);
      return [
        `V${zone.number}`,
        words.assemblyLine(
          zone.assembly.class,
          print.pressure(zone.assembly.regulatedHeadM),
          names[zone.assembly.box] ?? zone.assembly.box,
        ) + starOf(zone.assembly.source),
        hasController ? String(zone.number) : '',
        print.tubing(lengthM),
        String(zone.emitters.run.length),
        `${spacings.length > 1 ? `${spacings[0]} …` : (spacings[0] ?? '')}${beds.some(isByPractice) ? '*' : ''}`,
        month ? `${month.cycles} × ${month.minutesPerCycle}` : '',
      ];
    }),
    foot: isStarred ? words.starNote : '',
  });
}

/** More flush valves of a zone than this are not all read before mulch. */
const MOST_FLUSH_READ = 5;

interface FlushReading {
  readonly runId: string;
  readonly headM: number;
}

/** Pressures at a zone's flush valves; of many, the least and the greatest: commissioning asks for all. */
function flushReadings(zone: Zone): readonly FlushReading[] {
  const readings = zone.flush.flatMap(({ runId, distanceM }): FlushReading[] => {
    const headM = pressureAlongM(zone, runId, distanceM);
    return headM === null ? [] : [{ runId, headM }];
  });
  if (readings.length <= MOST_FLUSH_READ) return readings;
  const furthest = (sign: 1 | -1): FlushReading =>
    readings.reduce((best, one) => (sign * (one.headM - best.headM) > 1e-9 ? one : best));
  return [furthest(-1), furthest(1)];
}

/** What the crew should read, where, and what to do when it reads otherwise. */
export function readingRows(design: Design, print: Printer): readonly (readonly [string, string, string])[] {
  const source = Object.values(design.plan.sources)[0];
  const zones = byNumber(design.supply.zones);
  const needed = Math.max(0, ...zones.map((z) => z.requiredSourceHeadM));
  const known = source?.lowestStaticHeadM ?? source?.staticHeadM;
  const rows: (readonly [string, string, string])[] = [
    [
      words.readingConnection,
      known === null || known === undefined
        ? words.atLeast(print.pressure(needed))
        : print.pressure(source?.staticHeadM ?? known),
      words.ifStatic(print.pressure(needed)),
    ],
  ];
  for (const zone of zones) {
    const inlet = pressureAtNodeM(zone, zone.readAt.regulatorInlet);
    const outlet = pressureAtNodeM(zone, zone.readAt.afterRegulator);
    if (inlet !== null) rows.push([words.readingInlet(zone.number), print.pressure(inlet), words.ifInlet]);
    if (outlet !== null)
      rows.push([words.readingRegulator(zone.number), print.pressure(outlet), words.ifRegulator]);
    for (const { runId, headM } of flushReadings(zone))
      rows.push([words.readingFlush(flushMark(design, runId)), print.pressure(headM), words.ifFlush]);
    rows.push([words.readingMeter(zone.number), print.flow(zone.flowM3s), words.ifMeter]);
  }
  return rows;
}

/** The readings as a table, with blanks for what is found, the day and who signs. */
export function readingBlock(design: Design, print: Printer): Block {
  const { heads, fill } = words;
  const table = tableBlock({
    key: 'readings',
    title: words.tables.readings,
    columns: [
      { title: heads.where },
      { title: heads.read, align: 'end', water: true },
      { title: heads.found, leastMm: 13, blank: true },
      { title: heads.ifNot },
    ],
    rows: readingRows(design, print).map(([where, read, ifNot]) => [where, read, '', ifNot]),
  });
  return {
    ...table,
    parts: (widthMm) => [...table.parts(widthMm), signPart([fill.date, fill.initials, fill.signed], widthMm)],
  };
}

interface PipeRow {
  readonly name: string;
  readonly pipes: HeaderPipe[];
}

/** Pipes of one zone and size together, the main first. */
function pipeRows(design: Design): readonly PipeRow[] {
  const rows = new Map<string, PipeRow>();
  const add = (key: string, name: string, pipe: HeaderPipe): void => {
    const row = rows.get(key) ?? { name, pipes: [] };
    row.pipes.push(pipe);
    rows.set(key, row);
  };
  for (const pipe of design.supply.main) add(`0-${pipe.pipe.id}-${pipe.depthM}`, words.mainLine, pipe);
  for (const zone of byNumber(design.supply.zones)) {
    for (const pipe of zone.pipes)
      add(
        `${zone.id}-${pipe.pipe.id}-${pipe.depthM}`,
        words.headerLine(zone.number, marksOf(design, zone)),
        pipe,
      );
  }
  return [...rows.values()];
}

/** Every sleeve once. */
export function allSleeves(design: Design): readonly Sleeve[] {
  return [...design.supply.sleeves, ...design.supply.zones.flatMap((z) => z.sleeves)].filter(
    (s, i, all) => all.findIndex((o) => o.id === s.id) === i,
  );
}

/** Pipe schedule: size, length, depth and the greatest speed of the water. */
export function pipeBlock(design: Design, print: Printer): Block {
  const { heads } = words;
  const { settings } = design.plan;
  const isDepthByPractice = (['headerDepthM', 'mainDepthM'] as const).some((key) =>
    isUnpublished(settingSource(settings, key)),
  );
  const lines = pipeRows(design);
  const sleeves = allSleeves(design);
  const sum = (pipes: readonly HeaderPipe[]): number => pipes.reduce((total, p) => total + p.lengthM, 0);
  return tableBlock({
    key: 'pipe',
    title: words.tables.pipe,
    columns: [
      { title: heads.line },
      { title: heads.size },
      { title: heads.length, align: 'end' },
      { title: `${heads.depth}${isDepthByPractice ? '*' : ''}`, align: 'end' },
      { title: heads.speed, align: 'end', water: true },
    ],
    rows: [
      ...lines.map((row) => {
        const first = row.pipes[0]!;
        return [
          row.name,
          `${first.pipe.nominal} ${drawingWords.materials[first.pipe.material]}`,
          print.tubing(sum(row.pipes)),
          print.small(first.depthM),
          print.velocity(Math.max(...row.pipes.map((p) => Math.abs(p.velocityMs)))),
        ];
      }),
      ...sleeves.map((sleeve, i) => [
        words.sleeve(i + 1),
        `${sleeve.pipe.nominal} ${drawingWords.materials[sleeve.pipe.material]}`,
        print.length(sleeve.lengthM),
        '',
        '',
      ]),
    ],
    foot: isDepthByPractice ? words.starNote : '',
  });
}
