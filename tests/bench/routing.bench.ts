import { type BedLayout, type LayoutInput, layoutBed } from '../../src/core/layout';
import { type BedFile, readBedFiles } from './bedFiles';
import { hasALoopEach } from './layoutFigures';
import { randomBed, scaledBed } from './randomBeds';
import {
  ALWAYS_RULES,
  figuresOf,
  isHeldTo,
  missedBy,
  TARGETS,
  type TargetFigures,
  timeLimitMs,
} from './routingTargets';
import { shapedBeds } from './shapedBeds';

/** One row of a printed table. */
export type BenchRow = Readonly<Record<string, string | number>>;

/** A table of the bench. */
export interface BenchTable {
  readonly title: string;
  readonly rows: readonly BenchRow[];
}

/** What to route: bed files of a folder, shaped beds, and random beds by seed. */
export interface RoutingBenchOptions {
  /** The program's root; bed files lie under it. */
  readonly root?: string;
  readonly bedFolder?: string;
  readonly full?: boolean;
  readonly randomBeds?: number;
  readonly firstSeed?: number;
  /** Metres of tubing a turn weighs; the input's own where it is not given. */
  readonly turnWeightM?: number;
  /** Milliseconds of a steady clock. */
  readonly now?: () => number;
}

/** Random beds routed without `--full`, and with it. */
const RANDOM_BEDS = { short: 40, full: 2000 } as const;
/** Two runs side by side by the targets' own least distance: bends of half of 0.6 of the spacing. */
const EASY_BEND_RATIO = 0.3;
/** Random beds laid also with tubing that bends to 5 in whatever the spacing: two runs 12 in apart leave each other hardly room. */
const STIFF_BEDS = 40;
/** Quick beds are timed again, and the best time counts: the first run of a program is never its own speed. */
const QUICK_MS = 350;

interface Measured {
  readonly family: string;
  readonly input: LayoutInput;
  readonly parts: readonly { readonly part: BedLayout; readonly figures: TargetFigures | null }[];
  readonly ms: number;
  readonly previewMs: number;
}

/** Routes every bed of the folder, the shaped beds and some random ones, says how each stands against the targets, and how time grows with ground. */
export async function benchRouting(options: RoutingBenchOptions = {}): Promise<readonly BenchTable[]> {
  const now = options.now ?? (() => performance.now());
  const folder = options.bedFolder ?? `${options.root ?? '.'}/tests/reference/beds`;
  const weighed = (bed: BedFile): BedFile =>
    options.turnWeightM === undefined
      ? bed
      : { ...bed, input: { ...bed.input, turnWeightM: options.turnWeightM } };
  const measureAll = (beds: readonly BedFile[]): BenchRow[] =>
    beds.flatMap((bed) => rowsFor(measure(weighed(bed), bed.name, now, true)));
  const count = options.randomBeds ?? (options.full ? RANDOM_BEDS.full : RANDOM_BEDS.short);
  const first = options.firstSeed ?? 1;
  const measureRandom = (beds: number, mostBendRatio?: number): Measured[] =>
    Array.from({ length: beds }, (_, k) => {
      const bed = randomBed(first + k, 1, mostBendRatio);
      return measure(weighed(bed), `${bed.family}${bed.holes > 0 ? ' with boulders' : ''}`, now, false);
    });
  const random = measureRandom(count, EASY_BEND_RATIO);
  const stiff = measureRandom(Math.min(count, STIFF_BEDS));
  return [
    { title: 'Routing: every bed file', rows: measureAll(readBedFiles(folder)) },
    { title: 'Routing: shaped beds', rows: measureAll(shapedBeds()) },
    { title: `Routing: ${count} random beds by family`, rows: byFamily(random) },
    { title: `Routing: ${stiff.length} of them with tubing that bends to 5 in`, rows: byFamily(stiff) },
    {
      title: 'Routing: random beds that broke a rule or were refused',
      rows: [...random, ...stiff].flatMap(broken).slice(0, 80),
    },
    { title: 'Routing: time against ground', rows: growth(now) },
  ];
}

function measure(bed: BedFile, family: string, now: () => number, isTimedAgain: boolean): Measured {
  const time = (input: LayoutInput): { ms: number; parts: readonly BedLayout[] } => {
    const started = now();
    const parts = layoutBed(input);
    const ms = now() - started;
    if (!isTimedAgain || ms > QUICK_MS) return { ms, parts };
    const again = now();
    layoutBed(input);
    return { ms: Math.min(ms, now() - again), parts };
  };
  const finished = time(bed.input);
  const preview = time({ ...bed.input, quality: 'preview', previous: finished.parts[0]?.memory ?? null });
  return {
    family,
    input: bed.input,
    parts: finished.parts.map((part) => ({
      part,
      figures: part.status === 'routed' ? figuresOf(part, bed.input) : null,
    })),
    ms: finished.ms,
    previewMs: preview.ms,
  };
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

function rowsFor({ input, parts, ms, previewMs }: Measured): BenchRow[] {
  return parts.map(({ part, figures }) => {
    if (!figures)
      return { bed: part.bedId, layout: `refused: ${part.problems.map((p) => p.code).join(' ')}` };
    const limit = timeLimitMs(figures.areaFt2);
    const missed = [
      ...missedBy([...ALWAYS_RULES, ...TARGETS], figures, part, input),
      ...(ms > limit.finished ? ['time'] : []),
      ...(previewMs > limit.preview ? ['preview time'] : []),
    ];
    return {
      bed: part.bedId,
      ft2: round(figures.areaFt2, 0),
      layout: part.chosen,
      loops: part.runs.filter((run) => run.role === 'loop').length,
      'length ft': round(figures.lengthM / 0.3048, 0),
      'over bed': round(figures.overBedRatio, 3),
      'over usable': round(figures.overUsableRatio, 3),
      'covered %': round(figures.coveredRatio * 100, 2),
      'gap/S': round(figures.gapRows, 2),
      'turns/allowed': `${figures.turns}/${figures.turnsAllowed}`,
      'wavy/rows': `${figures.wavyRows}/${figures.rows}`,
      'stretch %': round(figures.stretchRatio * 100, 1),
      'sep/S': round(Math.min(9, figures.separationRows), 2),
      'clear mm': round(figures.clearanceM * 1000, 1),
      'bend m': round(Math.min(9, figures.bendM), 3),
      'split %': round(figures.splitSpreadRatio * 100, 0),
      'start m': round(figures.startM, 2),
      ms: round(ms, 0),
      'preview ms': round(previewMs, 0),
      missed: missed.join(', ') || 'none',
    };
  });
}

function broken({ family, input, parts }: Measured): BenchRow[] {
  return parts.flatMap(({ part, figures }) => {
    const reason = part.problems.find((problem) => problem.severity === 'stop')?.code ?? '';
    const rules = figures ? missedBy(ALWAYS_RULES, figures, part, input) : [`refused ${reason}`];
    return rules.length > 0
      ? [{ bed: part.bedId, family, broken: rules.join(', '), chosen: part.chosen }]
      : [];
  });
}

function byFamily(all: readonly Measured[]): BenchRow[] {
  const names = [...new Set(all.map((measured) => measured.family))].sort();
  return [...names, 'all'].map((family) => {
    const some = all.filter((measured) => family === 'all' || measured.family === family);
    const parts = some.flatMap(({ parts: own, input }) => own.map((each) => ({ ...each, input })));
    const routable = parts.filter(({ part }) => !part.problems.some(isTooSmall));
    const routed = parts.flatMap(({ part, figures, input }) => (figures ? [{ part, figures, input }] : []));
    const percent = (some: number, of: number): number => round((100 * some) / Math.max(1, of), 2);
    const share = (name: string): number => {
      const held = routed.filter(({ part, figures, input }) => isHeldTo(name, figures, part, input));
      const met = held.filter(
        ({ part, figures, input }) =>
          !missedBy([...ALWAYS_RULES, ...TARGETS], figures, part, input).includes(name),
      );
      return held.length > 0 ? percent(met.length, held.length) : 100;
    };
    const times = some.map((measured) => measured.ms).sort((a, b) => a - b);
    return {
      family,
      beds: some.length,
      parts: parts.length,
      'rules broken': routed.filter(
        ({ part, figures, input }) => missedBy(ALWAYS_RULES, figures, part, input).length > 0,
      ).length,
      'too small': parts.length - routable.length,
      'routed %': percent(routed.length, routable.length),
      'one loop a reachable part %': percent(
        routed.filter(({ part, input }) => hasALoopEach(part, input)).length,
        routable.length,
      ),
      ...Object.fromEntries(TARGETS.map(({ name }) => [`${name} %`, share(name)])),
      'mean covered %': round(
        (100 * routed.reduce((sum, { figures }) => sum + figures.coveredRatio, 0)) /
          Math.max(1, routed.length),
        2,
      ),
      'median ms': round(times[Math.floor(times.length / 2)] ?? 0, 0),
      '95 % ms': round(times[Math.floor(times.length * 0.95)] ?? 0, 0),
      'most ms': round(times.at(-1) ?? 0, 0),
    };
  });
}

const isTooSmall = (problem: { code: string }): boolean =>
  ['layout.too-small', 'layout.too-narrow', 'layout.no-area'].includes(problem.code);

/** Times at four sizes of one outline, and the exponent of the line through them on log paper. */
function growth(now: () => number): BenchRow[] {
  return ['walled', 'organic'].flatMap((family) => {
    const points = [2, 4, 8, 16].map((sizeM) => {
      const { input } = scaledBed(family, 7, sizeM);
      const time = (quality: LayoutInput['quality']): number => {
        const started = now();
        layoutBed({ ...input, quality });
        return now() - started;
      };
      time('preview');
      const previewMs = time('preview');
      const ms = time('finished');
      const [part] = layoutBed({ ...input, quality: 'preview' });
      return { areaM2: part?.areaM2 ?? 1, previewMs, ms };
    });
    const rows = points.map((point) => ({
      outline: family,
      ft2: round(point.areaM2 / 0.3048 ** 2, 0),
      'preview ms': round(point.previewMs, 0),
      'finished ms': round(point.ms, 0),
    }));
    const slope = (of: (point: (typeof points)[number]) => number): number =>
      round(exponent(points.map((point) => [Math.log(point.areaM2), Math.log(of(point))])), 2);
    return [
      ...rows,
      {
        outline: `${family}: growth exponent (at most 1.2)`,
        'preview ms': slope((point) => point.previewMs),
        'finished ms': slope((point) => point.ms),
      },
    ];
  });
}

function exponent(points: readonly (readonly [number, number])[]): number {
  const mean = (of: (point: readonly [number, number]) => number): number =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [x, y] = [mean((p) => p[0]), mean((p) => p[1])];
  return mean((p) => (p[0] - x) * (p[1] - y)) / mean((p) => (p[0] - x) ** 2);
}
