import { type BedLayout, type LayoutInput, layoutBed } from '../../src/core/layout';
import { type BedFile, readBedFiles } from './bedFiles';
import { randomBed } from './randomBeds';

const FOOT2_M2 = 0.3048 ** 2;

/** One row of a printed table. */
export type BenchRow = Readonly<Record<string, string | number>>;

/** A table of the bench. */
export interface BenchTable {
  readonly title: string;
  readonly rows: readonly BenchRow[];
}

/** What to route: bed files of a folder, and random beds by seed. */
export interface RoutingBenchOptions {
  readonly bedFolder?: string;
  readonly randomBeds?: number;
  readonly firstSeed?: number;
  /** Milliseconds of a steady clock; given by the caller. */
  readonly now?: () => number;
}

interface Measured {
  readonly name: string;
  readonly family: string;
  readonly input: LayoutInput;
  readonly parts: readonly BedLayout[];
  readonly ms: number;
  readonly previewMs: number;
}

/** Routes every bed of a folder, and some random ones, and says how each stands against the targets. */
export async function benchRouting(
  options: RoutingBenchOptions = {},
): Promise<{ title: string; rows: readonly BenchRow[]; tables: readonly BenchTable[] }> {
  const now = options.now ?? (() => performance.now());
  const folder = options.bedFolder ?? new URL('../reference/beds', import.meta.url).pathname;
  const files = readBedFiles(folder).map((bed) => measure(bed, bed.name, now));
  const first = options.firstSeed ?? 1;
  const random = Array.from({ length: options.randomBeds ?? 0 }, (_, k) => {
    const bed = randomBed(first + k);
    return measure(bed, `${bed.family}${bed.holes > 0 ? ' with boulders' : ''}`, now);
  });
  const rows = files.flatMap((measured) => measured.parts.map((part) => rowOf(measured, part)));
  const tables: BenchTable[] = [{ title: 'Routing: every bed of the folder', rows }];
  if (random.length > 0) {
    tables.push({ title: `Routing: ${random.length} random beds by family`, rows: byFamily(random) });
    tables.push({
      title: 'Routing: random beds that missed a rule',
      rows: random.flatMap(misses).slice(0, 60),
    });
  }
  return { title: tables[0]!.title, rows, tables };
}

function measure(bed: BedFile, family: string, now: () => number): Measured {
  const started = now();
  const parts = layoutBed(bed.input);
  const middle = now();
  layoutBed({ ...bed.input, quality: 'preview', previous: parts[0]?.memory ?? null });
  return { name: bed.name, family, input: bed.input, parts, ms: middle - started, previewMs: now() - middle };
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

function figuresOf(part: BedLayout): { lengthM: number; turns: number; loops: number; straight: number } {
  const wet = part.runs.filter((run) => run.role !== 'lead' && run.role !== 'connector');
  const lengthM = wet.reduce((sum, run) => sum + run.lengthM, 0);
  return {
    lengthM,
    turns: wet.reduce((sum, run) => sum + run.turns, 0),
    loops: wet.filter((run) => run.role === 'loop').length,
    straight:
      lengthM > 0 ? wet.reduce((sum, run) => sum + run.straightFraction * run.lengthM, 0) / lengthM : 0,
  };
}

function rowOf(measured: Measured, part: BedLayout): BenchRow {
  const figures = figuresOf(part);
  const spacingM = part.nominalRowSpacingM;
  return {
    bed: part.bedId,
    ft2: round(part.areaM2 / FOOT2_M2, 0),
    layout:
      part.status === 'refused' ? `refused: ${part.problems.map((p) => p.code).join(' ')}` : part.chosen,
    loops: figures.loops,
    'length ft': round(figures.lengthM / 0.3048, 0),
    'over bed': round(figures.lengthM / (part.areaM2 / spacingM || 1), 3),
    'over usable': round(figures.lengthM / (part.usableAreaM2 / spacingM || 1), 3),
    'covered %': round(part.coverage.coveredRatio * 100, 2),
    'gap/S': round(part.coverage.maxGapM / spacingM, 2),
    'sep/S': round(Math.min(9, part.verified.separationM / spacingM), 2),
    'clear mm': round(part.verified.worstClearanceM * 1000, 1),
    'bend m': round(Math.min(9, part.verified.minBendRadiusM), 3),
    turns: figures.turns,
    straight: round(figures.straight, 2),
    fails: part.verified.failures.join(' '),
    ms: round(measured.ms, 0),
    'preview ms': round(measured.previewMs, 0),
  };
}

/** What a bed of random outline is held to: routed and sound, or refused by name. */
export function missesOf(part: BedLayout): string[] {
  if (part.status === 'refused')
    return [`refused ${part.problems.find((p) => p.severity === 'stop')?.code ?? ''}`];
  const missed: string[] = [...part.verified.failures];
  if (part.coverage.coveredRatio < 0.99) missed.push('coverage');
  return missed;
}

function misses(measured: Measured): BenchRow[] {
  return measured.parts.flatMap((part) => {
    const missed = missesOf(part);
    return missed.length > 0
      ? [
          {
            bed: part.bedId,
            family: measured.family,
            missed: missed.join(', '),
            'covered %': round(part.coverage.coveredRatio * 100, 2),
            chosen: part.chosen,
          },
        ]
      : [];
  });
}

function byFamily(all: readonly Measured[]): BenchRow[] {
  const names = [...new Set(all.map((measured) => measured.family))].sort();
  return [...names, 'all'].map((family) => {
    const some = all.filter((measured) => family === 'all' || measured.family === family);
    const parts = some.flatMap((measured) => measured.parts);
    const routed = parts.filter((part) => part.status === 'routed');
    const share = (isMet: (part: BedLayout) => boolean): number =>
      round((100 * routed.filter(isMet).length) / Math.max(1, routed.length), 2);
    const milliseconds = some.map((measured) => measured.ms).sort((a, b) => a - b);
    return {
      family,
      beds: some.length,
      'routed %': round((100 * routed.length) / Math.max(1, parts.length), 2),
      'no route %': round(
        (100 * parts.filter((part) => part.problems.some((p) => p.code === 'layout.no-route')).length) /
          Math.max(1, parts.length),
        2,
      ),
      'one loop a part %': share((part) => part.runs.filter((run) => run.role === 'loop').length >= 1),
      'covered 99.5 %': share((part) => part.coverage.coveredRatio >= 0.995),
      'covered 99 %': share((part) => part.coverage.coveredRatio >= 0.99),
      'gap 0.7 S %': share((part) => part.coverage.maxGapM <= 0.7 * part.nominalRowSpacingM),
      'gap 0.85 S %': share((part) => part.coverage.maxGapM <= 0.85 * part.nominalRowSpacingM),
      'median ms': round(milliseconds[Math.floor(milliseconds.length / 2)] ?? 0, 0),
      '95 % ms': round(milliseconds[Math.floor(milliseconds.length * 0.95)] ?? 0, 0),
    };
  });
}
