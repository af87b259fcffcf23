import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Design, DesignedBed } from '../../../../src/core/design';
import { type DrawingList, drawSheetSet, measureOverlaps } from '../../../../src/core/drawing';
import type { PlanPoint } from '../../../../src/core/geometry';
import type { BedLayout } from '../../../../src/core/layout';
import { readPlan } from '../../../../src/core/plan';
import type { Cut } from '../../../../src/core/takeoff';
import { renderPdf } from '../../../../src/render';
import { fonts, openPdf } from '../../../render/readBack';
import { crossTapes, strayM } from '../../takeoff/layScript/replay';
import { fixtureDesign } from '../fixture';

const file = (path: string): string => readFileSync(new URL(`../../../../${path}`, import.meta.url), 'utf8');
const routes = JSON.parse(file('tests/reference/routes/demonstration.json')) as {
  readonly beds: readonly (Pick<DesignedBed, 'id' | 'name' | 'mark'> & { readonly layout: BedLayout })[];
  readonly cuts: readonly Cut[];
};

/** The demonstration with its routes as laid, and no water: the strip needs none. */
function laidDemonstration(): Design {
  const plan = readPlan(file('assets/demonstration.rillsheet.json'), 'demonstration');
  if (!plan.ok) throw new Error('the demonstration plan reads');
  const base = fixtureDesign();
  return {
    ...base,
    plan: plan.value,
    beds: routes.beds.map((bed) => ({ ...base.beds[0]!, ...bed, sourceBedId: bed.id })),
    supply: { ...base.supply, zones: [], main: [], devices: [], sleeves: [] },
    takeoff: { ...base.takeoff, cuts: routes.cuts },
  };
}

/** What a person finds on the ground by name; places read off the plan file by hand, metres. */
const ON_THE_GROUND: Readonly<Record<string, PlanPoint>> = {
  'north-east corner of Paved walk': { x: 19.812, y: 26.2128 },
  'south-east corner of Paved walk': { x: 19.812, y: 14.7828 },
  'south-west corner of Paved walk': { x: 2.4384, y: 14.7828 },
  'south-west corner of House, finished floor 0': { x: 3.048, y: 18.8976 },
  'south-east corner of House, finished floor 0': { x: 17.0688, y: 18.8976 },
  'Meadow bank, stub-up': { x: 14.478, y: 5.4864 },
  'Rose border, stub-up': { x: 21.4579, y: 5.6388 },
};

/** A length as printed: feet, inches and a fraction, or inches. Metres. */
function lengthM(text: string): number {
  const feet = /^(\d+)'-(\d+)(?: (\d)\/(\d))?"$/.exec(text);
  if (feet)
    return (
      (Number(feet[1]) * 12 + Number(feet[2]) + (feet[3] ? Number(feet[3]) / Number(feet[4]) : 0)) * 0.0254
    );
  const inches = /^([\d.]+) in$/.exec(text);
  if (!inches) throw new Error(`no length: ${text}`);
  return Number(inches[1]) * 0.0254;
}

interface Flag {
  readonly sentence: string;
  readonly count: string;
  readonly at: PlanPoint;
}

/** The flags of one run, plotted from nothing but the printed lines. */
function plotted(lines: readonly string[], bed: string): readonly Flag[] {
  const from = lines.indexOf(`Lay ${bed}`);
  const others = routes.beds.filter((other) => other.name !== bed).map((other) => `Lay ${other.name}`);
  const next = lines.findIndex((line, i) => i > from && others.includes(line));
  const mine = lines.slice(from, next < 0 ? undefined : next);
  const spots = new Map(
    mine.flatMap((line) => {
      const named = /^T(\d+): (.+)$/.exec(line);
      return named ? [[named[1]!, ON_THE_GROUND[named[2]!]!] as const] : [];
    }),
  );
  const sides = mine.join(' ').matchAll(/Facing T(\d+) from T(\d+), all flags are on the (left|right)/g);
  const sideOf = new Map([...sides].map((m) => [`${m[2]}-${m[1]}`, m[3] as 'left' | 'right']));
  const flags: Flag[] = [];
  mine.forEach((line, i) => {
    const tie = /^T(\d+) ([^,]+), T(\d+) ([^,]+)(?:, (left|right))?$/.exec(line);
    if (!tie) return;
    const begins = mine.lastIndexOf(String(flags.length + 1), i);
    const side = (tie[5] as 'left' | 'right' | undefined) ?? sideOf.get(`${tie[1]}-${tie[3]}`);
    if (begins < 0 || !side) return;
    flags.push({
      sentence: mine.slice(begins + 1, i - 1).join(' '),
      count: mine[i - 1]!,
      at: crossTapes(spots.get(tie[1]!)!, spots.get(tie[3]!)!, {
        firstM: lengthM(tie[2]!),
        secondM: lengthM(tie[4]!),
        side,
      }),
    });
  });
  const end = flags.findIndex((flag) => /^(Back at the beginning|End of the run)/.test(flag.sentence));
  return flags.slice(0, end + 1);
}

/** Tubing laid from flag to flag as each line says: straight, round by so many degrees, or bowed by so much. */
function laid(flags: readonly Flag[]): PlanPoint[] {
  const points: PlanPoint[] = [flags[0]!.at];
  flags.slice(1).forEach((flag, i) => {
    const [a, b] = [flags[i]!.at, flag.at];
    const chord = Math.hypot(b.x - a.x, b.y - a.y);
    const turn = /turn (left|right) (\d+)°/i.exec(flag.sentence);
    const curve = /curve (left|right) .*bow ([\d.]+ in)/i.exec(flag.sentence);
    const sweep = turn
      ? (Number(turn[2]) * Math.PI) / 180
      : curve
        ? 4 * Math.atan2(2 * lengthM(curve[2]!), chord)
        : 0;
    const sign = (turn ?? curve)?.[1] === 'right' ? -1 : 1;
    const heading = Math.atan2(b.y - a.y, b.x - a.x) - (sign * sweep) / 2;
    const radius = sweep === 0 ? 0 : chord / (2 * Math.sin(sweep / 2));
    for (let k = 1; k <= 16; k++) {
      const part = (sweep * k) / 16;
      const away = sweep === 0 ? (chord * k) / 16 : 2 * radius * Math.sin(part / 2);
      const toward = heading + (sign * part) / 2;
      points.push({ x: a.x + away * Math.cos(toward), y: a.y + away * Math.sin(toward) });
    }
  });
  return points;
}

describe("the demonstration's lay script, printed and read back", () => {
  let list: DrawingList;
  let lines: string[];
  beforeAll(async () => {
    list = drawSheetSet(laidDemonstration(), { include: ['laying'] });
    const doc = await openPdf(renderPdf(list, fonts));
    lines = [];
    for (let page = 1; page <= doc.numPages; page++) {
      const content = await (await doc.getPage(page)).getTextContent();
      for (const item of content.items)
        if ('str' in item && item.str.trim() !== '') lines.push(item.str.trim());
    }
  });

  test('no lettering lies on other lettering or lines', () => {
    for (const page of list.pages) {
      expect(measureOverlaps(page), page.label).toEqual({ textOnText: [], textOnLine: [], textOffPage: [] });
    }
  });

  test('a person with the strip and two tapes lays the first bed where it was drawn', () => {
    const { layout } = routes.beds[0]!;
    const loop = layout.runs[0]!;
    const flags = plotted(lines, 'Rose border');
    expect(flags.length).toBeGreaterThan(50);
    const path = laid(flags);
    // 20 mm: what a crew can place.
    expect(strayM(path, loop.path)).toBeLessThan(0.02);
    expect(strayM(loop.path, path)).toBeLessThan(0.02);
    expect(flags.at(-1)!.count).toMatch(new RegExp(`^emitter ${loop.emittersM.length}( |$)`));
    for (const flag of flags.slice(1)) {
      const count = /^emitter (\d+)(?: \+ (.+))?$/.exec(flag.count);
      if (!count) continue;
      // Emitters are a foot apart, the first half a foot from the tee.
      const alongM = (Number(count[1]) - 0.5) * 0.3048 + (count[2] ? lengthM(count[2]) : 0);
      const told = pointAt(loop.path, alongM);
      expect(Math.hypot(told.x - flag.at.x, told.y - flag.at.y), flag.sentence).toBeLessThan(0.02);
    }
  });

  test('no place is told a whole spacing past an emitter where the next one is', () => {
    const counts = lines.filter((line) => line.startsWith('emitter '));
    expect(counts.length).toBeGreaterThan(50);
    const lastOnes = routes.beds.flatMap((bed) => bed.layout.runs.map((run) => run.emittersM.length));
    const far = counts.flatMap((line) => /^emitter (\d+) \+ 12 in/.exec(line)?.[1] ?? []).map(Number);
    expect(far.filter((emitter) => !lastOnes.includes(emitter))).toEqual([]);
  });

  test('every bed is on the strip, and each run ends at its last emitter', () => {
    for (const bed of routes.beds) expect(lines).toContain(`Lay ${bed.name}`);
    for (const run of routes.beds.flatMap((bed) => bed.layout.runs)) {
      if (run.emittersM.length === 0) continue;
      expect(
        lines.some((line) => line.startsWith(`emitter ${run.emittersM.length}`)),
        run.id,
      ).toBe(true);
    }
  });
});

/** The place so far along a path, written apart from the program's own. */
function pointAt(path: readonly PlanPoint[], alongM: number): PlanPoint {
  let left = alongM;
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [path[i - 1]!, path[i]!];
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (left <= length && length > 0)
      return { x: a.x + ((b.x - a.x) * left) / length, y: a.y + ((b.y - a.y) * left) / length };
    left -= length;
  }
  return path.at(-1)!;
}
