import { METRES_PER_FOOT, type UnitSystem } from '../units';

/** One scale of a rule: 1 : `denominator`, and how it is written. */
export interface Scale {
  readonly denominator: number;
  readonly label: string;
}

const architect = (inch: string, denominator: number): Scale => ({
  denominator,
  label: `${inch}" = 1'-0"`,
});
const engineer = (feet: number): Scale => ({ denominator: feet * 12, label: `1" = ${feet}'` });
const metric = (denominator: number): Scale => ({ denominator, label: `1:${denominator}` });

/** Architect's and engineer's scales together, largest drawing first. */
export const US_SCALES: readonly Scale[] = [
  architect('1', 12),
  architect('3/4', 16),
  architect('1/2', 24),
  architect('3/8', 32),
  architect('1/4', 48),
  architect('3/16', 64),
  architect('1/8', 96),
  engineer(10),
  architect('3/32', 128),
  architect('1/16', 192),
  engineer(20),
  engineer(30),
  engineer(40),
  engineer(50),
  engineer(60),
  engineer(100),
];

/** Metric scales in common use on a triangular rule, largest drawing first. */
export const METRIC_SCALES: readonly Scale[] = [10, 20, 25, 50, 75, 100, 125, 200, 250, 500, 1000].map(
  metric,
);

/** The scales offered in one system of units. */
export const scalesOf = (system: UnitSystem): readonly Scale[] =>
  system === 'us' ? US_SCALES : METRIC_SCALES;

/** How a scale is written: as its rule names it, else as a plain ratio. */
export function scaleLabel(denominator: number, system: UnitSystem): string {
  const known = scalesOf(system).find((s) => s.denominator === denominator);
  return known?.label ?? `1:${Number(denominator.toFixed(2))}`;
}

/** What the automatic choice has to fit. */
export interface FitQuestion {
  readonly system: UnitSystem;
  /** Size of what must be seen, plan metres. */
  readonly widthM: number;
  readonly heightM: number;
  /** Paper free for it, mm. */
  readonly roomWidthMm: number;
  readonly roomHeightMm: number;
  /** Distance between neighbouring rows, m, and the least it may be on paper, mm. */
  readonly rowSpacingM: number;
  readonly leastRowMm: number;
}

/**
 * The largest scale at which everything fits one page. Where rows would then be closer on paper than they can be told
 * apart, the smallest scale that keeps them apart: the plan is tiled at that one (`fits` is false).
 */
export function chooseScale(q: FitQuestion): { readonly scale: Scale; readonly fits: boolean } {
  const scales = scalesOf(q.system);
  const legible = scales.filter((s) => (q.rowSpacingM * 1000) / s.denominator >= q.leastRowMm);
  const allowed = legible.length > 0 ? legible : scales.slice(0, 1);
  const fitting = allowed.find(
    (s) =>
      (q.widthM * 1000) / s.denominator <= q.roomWidthMm &&
      (q.heightM * 1000) / s.denominator <= q.roomHeightMm,
  );
  const smallest = allowed[allowed.length - 1]!;
  return fitting ? { scale: fitting, fits: true } : { scale: smallest, fits: false };
}

/** A scale bar: its true length and the length it must measure on paper. */
export interface ScaleBar {
  readonly lengthM: number;
  readonly paperMm: number;
  /** Number of equal parts, and the figure at the end of each. */
  readonly parts: number;
  readonly partFigure: number;
  readonly figureUnit: 'ft' | 'm';
  /** "5 in" or "100 mm": what a rule laid on the print must show. */
  readonly paperText: string;
}

const ROUND_LENGTHS = [
  1, 2, 4, 5, 8, 10, 16, 20, 25, 30, 32, 40, 50, 60, 64, 80, 100, 120, 150, 200, 250, 300, 400, 500,
];
const ROUNDNESS = [0.5, 0.4, 0.3, 0.1];
/** Figures along a bar are whole where that gives enough parts, else halves, else tenths. */
const FIGURE_STEPS = [1, 0.5, 0.1];
const FEWEST_PARTS = 4;

/** Into how many parts a bar is divided: four or more with round figures, on whole steps of a ruler where there are such, else on half steps. */
function partsOf(length: number, paperMm: number, rulerMm: number): number {
  const counts = [5, 6, 4, 8, 10];
  const isWhole = (value: number): boolean => Math.abs(value - Math.round(value)) < 1e-9;
  const round = FIGURE_STEPS.map((step) => counts.filter((n) => isWhole(length / n / step))).find(
    (fitting) => fitting.length > 0,
  );
  const standsOn = (stepMm: number) => (n: number) => isWhole(paperMm / n / stepMm);
  return round?.find(standsOn(rulerMm)) ?? round?.find(standsOn(rulerMm / 2)) ?? round?.[0] ?? FEWEST_PARTS;
}

/**
 * A bar no longer than `longestMm`, long and round on paper: a whole inch (50 mm) counts as half the longest bar more
 * length, a half inch (10 mm) 0.4, a quarter (5 mm) 0.3. For a scale no rule knows, the longest round length that fits.
 */
export function scaleBar(denominator: number, system: UnitSystem, longestMm: number): ScaleBar {
  const unitM = system === 'us' ? METRES_PER_FOOT : 1;
  const rulers = system === 'us' ? [25.4, 12.7, 6.35, 3.175] : [50, 10, 5, 1];
  let best: { length: number; mm: number; worth: number } | null = null;
  for (const length of [0.1, 0.2, 0.5, ...ROUND_LENGTHS]) {
    const mm = (length * unitM * 1000) / denominator;
    if (mm > longestMm || mm < longestMm / 4) continue;
    const rank = rulers.findIndex((r) => Math.abs(mm / r - Math.round(mm / r)) < 1e-9);
    const worth = mm / longestMm + (ROUNDNESS[rank] ?? 0);
    if (!best || worth > best.worth) best = { length, mm, worth };
  }
  const chosen = best ?? { length: 1, mm: (unitM * 1000) / denominator, worth: 0 };
  const paper = system === 'us' ? chosen.mm / 25.4 : chosen.mm;
  const parts = partsOf(chosen.length, chosen.mm, system === 'us' ? 25.4 : 10);
  return {
    lengthM: chosen.length * unitM,
    paperMm: chosen.mm,
    parts,
    partFigure: chosen.length / parts,
    figureUnit: system === 'us' ? 'ft' : 'm',
    paperText: system === 'us' ? `${Number(paper.toFixed(3))} in` : `${Number(paper.toFixed(1))} mm`,
  };
}
