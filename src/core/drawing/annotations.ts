import type { DesignedBed } from '../design';
import { planToPaper, pointAlong, pointsAlong, polylineLengthM } from '../geometry';
import type { Plan } from '../plan';
import type { HeaderPipe } from '../supply';
import { drawingWords as words } from '../words';
import { type Alongside, alongsideOf } from './alongside';
import { compassName, headingBetween } from './bearings';
import { devicePlaces, devicesOf } from './devices';
import { markedRuns } from './figures';
import { groundNames, tieMarks } from './groundLabels';
import type { LabelRequest } from './labels';
import { busyBeds, crowdedBeds, isShown, type Lettering, paper, spread, WEIGHTS } from './letteringBasis';
import { deviceLabels } from './names';
import { pathItem, polylineSteps, rectSteps, stroke, WEIGHT } from './pen';
import type { DrawingItem } from './types';

/** How to begin: which way the tubing leaves the stub-up, and along what. */
export function beginText(plan: Plan, bed: DesignedBed, along: readonly Alongside[]): string {
  const first = markedRuns(bed)[0]?.run;
  if (!first) return '';
  const start = pointAlong(first.path, 0).at;
  const ahead = pointAlong(first.path, Math.min(1, first.lengthM / 4)).at;
  const beside = along.find(
    (a) => a.structure && Math.hypot(a.at.x - ahead.x, a.at.y - ahead.y) < 2.5 && a.distanceM < 0.8,
  );
  const way = compassName(plan, headingBetween(start, ahead));
  return words.begin(way, beside ? words.besides[beside.kind] : '', first.closed);
}

function bedNote(l: Lettering, bed: DesignedBed, along: readonly Alongside[]): LabelRequest {
  const { print } = l;
  const runs = l.runs.filter((r) => r.bed.id === bed.id);
  const lengthM = runs.reduce((sum, r) => sum + r.run.lengthM, 0);
  const emitters = runs.reduce((sum, r) => sum + r.run.emittersM.length, 0);
  const solved = runs.filter((r) => r.flowM3s !== null);
  const flow = solved.reduce((sum, r) => sum + (r.flowM3s ?? 0), 0);
  const isBegun = runs[0] !== undefined && isShown(l, runs[0].run.startsAt);
  const lowest = Math.min(...solved.map((r) => r.lowestHeadM ?? Number.POSITIVE_INFINITY));
  const lines = [
    {
      text: words.bedHeading(bed.name, print.area(bed.layout.areaM2)),
      font: 'narrow-semibold' as const,
      sizeMm: 2.6,
    },
    ...(runs.length === 0
      ? [{ text: words.notRouted }]
      : [
          {
            text: words.runLine(
              runs.map((r) => r.mark),
              print.tubing(lengthM),
              emitters,
              print.small(bed.layout.rowSpacingM),
            ),
          },
          ...(solved.length === 0
            ? []
            : [
                {
                  text: words.waterLine(print.flow(flow), print.pressure(lowest)),
                  font: 'narrow-italic' as const,
                  ink: 'water' as const,
                },
              ]),
          ...(isBegun ? [{ text: beginText(l.design.plan, bed, along) }] : []),
        ]),
  ];
  return {
    key: `bed-${bed.id}`,
    of: bed.id,
    weight: WEIGHTS.note,
    lines,
    ...(runs[0] && isBegun ? { flag: runs[0].mark } : {}),
    targets: spread(paper(bed.layout.outline[0]?.outer ?? [], l.view), true),
    reachMm: 70,
    leader: true,
  };
}

/** Key of the mark at a run's start. */
export const flagKey = (runId: string): string => `flag-${runId}`;

/** A flag at the start of every run; the first of each bed stands at the stub-up and matters most. */
function startFlags(l: Lettering): readonly LabelRequest[] {
  const [busy, crowded] = [busyBeds(l), crowdedBeds(l)];
  return l.runs.map((r, i) => ({
    key: flagKey(r.run.id),
    of: r.run.id,
    weight: l.runs[i - 1]?.bed.id === r.bed.id ? WEIGHTS.device : WEIGHTS.mark,
    lines: [],
    flag: r.mark,
    targets: [planToPaper(r.run.startsAt, l.view)],
    reachMm: 22,
    leader: true,
    ...(busy.has(r.bed.id) ? { reachMm: 14, furthestTimes: 1 } : {}),
    ...(crowded.has(r.bed.id) ? { flagSize: 'small' as const } : {}),
  }));
}

/** The distance of a first row from what its edge runs along, with the short dimension where there is room to see it. */
function offsetNotes(l: Lettering, bed: DesignedBed, along: readonly Alongside[]): readonly LabelRequest[] {
  return along.map((a) => {
    const [from, to] = [planToPaper(a.edge, l.view), planToPaper(a.at, l.view)];
    const key = `offset-${bed.id}-${a.kind}-${a.structure?.id ?? ''}`;
    const mark = { layer: 'dimensions', group: `label:${key}` };
    const extra: DrawingItem[] = [
      pathItem(mark, polylineSteps([from, to]), { stroke: stroke('ink', WEIGHT.thin) }),
      ...[from, to].map((p) => pathItem(mark, rectSteps(p.x - 0.35, p.y - 0.35, 0.7, 0.7), { fill: 'ink' })),
    ];
    return {
      key,
      of: bed.id,
      layer: 'dimensions',
      weight: a.kind === 'open' ? WEIGHTS.name : WEIGHTS.offset,
      lines: [{ text: words.offset(l.print.small(a.distanceM), words.besides[a.kind]) }],
      targets: [to],
      reachMm: 34,
      leader: true,
      extra,
    };
  });
}

/** Rows that come nearer than this to each other, as a share of their spacing, are not laid by one jig. */
const EVEN_RATIO = 0.95;

/** Of rows that share out a width that changes: how near they come, and that stations say where they lie. */
function unevenNote(l: Lettering, bed: DesignedBed): LabelRequest {
  return {
    key: `spacing-${bed.id}`,
    of: bed.id,
    layer: 'dimensions',
    weight: WEIGHTS.offset,
    lines: [
      { text: words.unevenRows(l.print.small(bed.layout.verified.separationM)), font: 'narrow-semibold' },
      { text: words.noJig },
    ],
    targets: bed.layout.runs.slice(0, 1).flatMap((run) => spread(paper(run.path, l.view), false)),
    reachMm: 60,
    leader: true,
  };
}

/** Row spacing between two neighbouring rows, and the jig that gives it. */
function spacingNote(l: Lettering, bed: DesignedBed): readonly LabelRequest[] {
  const { layout, verified, rowSpacingM } = bed.layout;
  if (layout === 'contour' && verified.separationM < EVEN_RATIO * rowSpacingM) return [unevenNote(l, bed)];
  const pair = neighbouringRows(bed);
  if (!pair) return [];
  const [from, to] = [planToPaper(pair[0], l.view), planToPaper(pair[1], l.view)];
  const key = `spacing-${bed.id}`;
  const mark = { layer: 'dimensions', group: `label:${key}` };
  const jigM = bed.layout.rowSpacingM - bed.choice.dripline.outsideDiameterM;
  return [
    {
      key,
      of: bed.id,
      layer: 'dimensions',
      weight: WEIGHTS.offset,
      lines: [
        { text: words.rows(l.print.small(bed.layout.rowSpacingM)), font: 'narrow-semibold' },
        { text: words.jig(l.print.small(jigM)) },
      ],
      targets: [{ x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }, from, to],
      reachMm: 60,
      leader: true,
      extra: [
        pathItem(mark, polylineSteps([from, to]), { stroke: stroke('ink', WEIGHT.thin) }),
        ...[from, to].map((p) =>
          pathItem(mark, rectSteps(p.x - 0.45, p.y - 0.45, 0.9, 0.9), { fill: 'ink' }),
        ),
      ],
    },
  ];
}

/** Two facing points of neighbouring rows, one row spacing apart; null where none face each other. */
function neighbouringRows(bed: DesignedBed) {
  const { layout } = bed;
  const across = layout.directionRad + Math.PI / 2;
  const points = layout.runs
    .filter((run) => run.emittersM.length > 0)
    .flatMap((run) => {
      const total = polylineLengthM(run.path);
      const count = Math.min(400, Math.ceil(total / 0.3));
      return pointsAlong(
        run.path,
        Array.from({ length: count }, (_, i) => (i * total) / count),
      );
    })
    .filter((on) => Math.abs(Math.sin(on.headingRad - layout.directionRad)) < 0.1);
  for (const on of points) {
    const want = {
      x: on.at.x + Math.cos(across) * layout.rowSpacingM,
      y: on.at.y + Math.sin(across) * layout.rowSpacingM,
    };
    const facing = points.find((p) => Math.hypot(p.at.x - want.x, p.at.y - want.y) < 0.16);
    if (facing) return [on.at, want] as const;
  }
  return null;
}

function pipeNote(
  l: Lettering,
  pipe: HeaderPipe,
  name: string,
  lengthM: number,
  others: readonly HeaderPipe[],
): LabelRequest {
  const { print } = l;
  return {
    key: `pipe-${pipe.id}`,
    of: pipe.id,
    weight: WEIGHTS.pipe,
    lines: [
      { text: name, font: 'narrow-semibold' },
      {
        text: words.pipeLine(
          pipe.pipe.nominal,
          words.materials[pipe.pipe.material],
          print.small(pipe.depthM),
        ),
      },
      { text: print.tubing(lengthM) },
    ],
    targets: [pipe, ...others].flatMap((p) => [...spread(paper(p.path, l.view), false)].slice(1, -1)),
    reachMm: 26,
    leader: true,
  };
}

/** One note for a zone's headers of one size, one for the main. */
function pipeNotes(l: Lettering): readonly LabelRequest[] {
  const groups = new Map<string, { name: string; pipes: HeaderPipe[] }>();
  const add = (key: string, name: string, pipe: HeaderPipe): void => {
    const group = groups.get(key) ?? { name, pipes: [] };
    group.pipes.push(pipe);
    groups.set(key, group);
  };
  for (const pipe of l.design.supply.main) add(`main-${pipe.pipe.id}`, words.mainName, pipe);
  for (const zone of l.design.supply.zones) {
    for (const pipe of zone.pipes) add(`${zone.id}-${pipe.pipe.id}`, words.headerName(zone.number), pipe);
  }
  return [...groups.values()].map(({ name, pipes }) => {
    const longest = [...pipes].sort((a, b) => b.lengthM - a.lengthM)[0]!;
    const total = pipes.reduce((sum, p) => sum + p.lengthM, 0);
    return pipeNote(
      l,
      longest,
      name,
      total,
      pipes.filter((p) => p !== longest),
    );
  });
}

function sleeveNotes(l: Lettering): readonly LabelRequest[] {
  const { supply } = l.design;
  return [...supply.sleeves, ...supply.zones.flatMap((z) => z.sleeves)]
    .filter((s, i, all) => all.findIndex((o) => o.id === s.id) === i)
    .map((sleeve, i) => ({
      key: `sleeve-${sleeve.id}`,
      of: sleeve.id,
      weight: WEIGHTS.pipe,
      lines: [
        { text: words.sleeveName(i + 1), font: 'narrow-semibold' as const },
        { text: words.sleeveLine(sleeve.pipe.nominal, l.print.length(sleeve.lengthM)) },
      ],
      targets: spread(paper(sleeve.path, l.view), false),
      reachMm: 26,
      leader: true,
    }));
}

/** A mark that stands right beside what it names, or is set into its row. */
const CLOSE_BY = { reachMm: 6, furthestTimes: 1 };

const deviceKey = (id: string): string => `device-${id}`;

/** Keys of the marks beside flush valves, by run, where they are lettered with the run's mark alone. */
export function flushKeys(l: Lettering): ReadonlyMap<string, string> {
  const names = deviceLabels(l.design);
  const runs = new Map(l.runs.map(({ mark, run }) => [mark, run.id]));
  return new Map(
    devicesOf(l.design.supply).flatMap((device) => {
      const runId = device.kind === 'flush-valve' ? runs.get(names[device.id] ?? '') : undefined;
      return runId === undefined ? [] : [[runId, deviceKey(device.id)] as const];
    }),
  );
}

/**
 * A name beside every device; valves carry their zone's number, flush valves their run's mark: alone where there are many,
 * and in a bed of many runs only close by.
 */
function deviceNotes(l: Lettering): readonly LabelRequest[] {
  const names = deviceLabels(l.design);
  const at = devicePlaces(l.design, l.view);
  const busy = busyBeds(l);
  const busyMarks = new Set(l.runs.filter((r) => busy.has(r.bed.id)).map((r) => r.mark));
  return devicesOf(l.design.supply).map((device) => {
    const isValve = device.kind === 'valve-assembly';
    const text = names[device.id] ?? words.devices[device.kind];
    return {
      key: deviceKey(device.id),
      of: device.id,
      weight: isValve ? WEIGHTS.caution : WEIGHTS.device,
      lines: [{ text, ...(isValve ? { font: 'narrow-semibold' as const } : {}) }],
      targets: [at.get(device.id) ?? planToPaper(device.at, l.view)],
      reachMm: 24,
      leader: true,
      ...(busyMarks.has(text) ? CLOSE_BY : {}),
    };
  });
}

/** Every label a plan view wants, in a fixed order. */
export function labelRequests(l: Lettering): readonly LabelRequest[] {
  const beds = l.design.beds.map((bed) => ({ bed, along: alongsideOf(l.design.plan, bed) }));
  return [
    ...startFlags(l),
    ...beds.map(({ bed, along }) => bedNote(l, bed, along)),
    ...tieMarks(l),
    ...pipeNotes(l),
    ...sleeveNotes(l),
    ...deviceNotes(l),
    ...beds.flatMap(({ bed, along }) => offsetNotes(l, bed, along)),
    ...beds.flatMap(({ bed }) => spacingNote(l, bed)),
    ...groundNames(l),
  ];
}
