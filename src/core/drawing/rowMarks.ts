import { boxesTouch, boxOf, type PaperPoint, planToPaper, pointsAlong, polylineLengthM } from '../geometry';
import { isInRect } from './blocks';
import type { RunFigures } from './figures';
import type { Lettering } from './letteringBasis';
import { SIZE, textItem } from './pen';
import { boxCorners, type InkSegment, segmentEnters, type TurnedBox } from './placement/ink';
import type { InkIndex } from './placement/inkIndex';
import { shownBox } from './planPage';
import { type RowGap, runGroup } from './rowGaps';
import { measureText } from './text';
import type { DrawingItem } from './types';

/** Marks set into their rows, and the rows left open for them. */
export interface RowMarks {
  readonly items: readonly DrawingItem[];
  /** Stretches to be left open, by run. */
  readonly gaps: ReadonlyMap<string, readonly RowGap[]>;
  /** Keys of what is told by a mark in a row. */
  readonly told: ReadonlySet<string>;
}

const FONT = 'narrow-semibold' as const;
/** Paper on either side of a mark before its row goes on. */
const BESIDE_MM = 0.6;
const HALF_HEIGHT_MM = 0.78;
/** Places are looked for this far apart, from the start of the run. */
const STEP_MM = 3;
const MOST_PLACES = 80;
/** A mark set so near to where another is wanted along the same run does for both. */
const ENOUGH_MM = 25;
/** A row that bows more than this within a mark is no place for it. */
const STRAIGHT_MM = 0.12;

interface Place {
  readonly gap: RowGap;
  readonly box: TurnedBox;
}

/** A mark reads from below or from the right, whichever way its row runs. */
function uprightRad(from: PaperPoint, to: PaperPoint): number {
  const along = -Math.atan2(to.y - from.y, to.x - from.x);
  const isUpsideDown = along > Math.PI / 2 + 1e-6 || along <= -Math.PI / 2 + 1e-6;
  return isUpsideDown ? along + Math.PI * (along > 0 ? -1 : 1) : along;
}

/** A run whose mark is wanted in its row, and near which place of it, metres along. */
export interface RowMarkWanted {
  readonly figures: RunFigures;
  /** The label that the mark stands for. */
  readonly key: string;
  readonly nearM: number;
}

/** Straight stretches of a run, wholly seen and long enough for its mark, the nearest to where it is wanted first. */
function placesOf(
  l: Lettering,
  { figures: { run, mark }, nearM }: RowMarkWanted,
  isSeen: (p: PaperPoint) => boolean,
): readonly Place[] {
  const mPerMm = l.view.scaleDenominator / 1000;
  const halfWidthMm = measureText(mark, FONT, SIZE.small) / 2 + BESIDE_MM;
  const [halfM, stepM, lengthM] = [halfWidthMm * mPerMm, STEP_MM * mPerMm, polylineLengthM(run.path)];
  const firstM = halfM + stepM;
  const count = Math.max(0, Math.floor((lengthM - 2 * firstM) / stepM) + 1);
  const onPaper = (alongM: readonly number[]): readonly PaperPoint[] =>
    pointsAlong(run.path, alongM).map((on) => planToPaper(on.at, l.view));
  const all = Array.from({ length: count }, (_, k) => firstM + k * stepM);
  const middles = onPaper(all)
    .flatMap((at, k) => (isSeen(at) ? [{ at, alongM: all[k]! }] : []))
    .sort((a, b) => Math.abs(a.alongM - nearM) - Math.abs(b.alongM - nearM) || a.alongM - b.alongM)
    .slice(0, MOST_PLACES);
  const from = onPaper(middles.map(({ alongM }) => alongM - halfM));
  const to = onPaper(middles.map(({ alongM }) => alongM + halfM));
  return middles.flatMap(({ at, alongM }, k): Place[] => {
    const [a, c] = [from[k]!, to[k]!];
    const bowMm = Math.hypot((a.x + c.x) / 2 - at.x, (a.y + c.y) / 2 - at.y);
    if (bowMm > STRAIGHT_MM || 2 * halfWidthMm - Math.hypot(c.x - a.x, c.y - a.y) > STRAIGHT_MM / 4)
      return [];
    return [
      {
        gap: { fromM: alongM - halfM, toM: alongM + halfM },
        box: { x: at.x, y: at.y, halfWidthMm, halfHeightMm: HALF_HEIGHT_MM, angleRad: uprightRad(a, c) },
      },
    ];
  });
}

/** Sets marks into the rows of runs that found no other place for them: a row is left open where nothing but itself is met. */
export function rowMarks(
  l: Lettering,
  wanted: readonly RowMarkWanted[],
  index: InkIndex,
  leaders: readonly InkSegment[],
): RowMarks {
  const items: DrawingItem[] = [];
  const gaps = new Map<string, readonly RowGap[]>();
  const told = new Set<string>();
  const enoughM = (ENOUGH_MM * l.view.scaleDenominator) / 1000;
  const isSeen = (p: PaperPoint): boolean => isInRect(l.room, p);
  const shown = shownBox(l.room, l.view);
  for (const want of wanted) {
    const { run, mark } = want.figures;
    const own = boxOf(run.path);
    if (own === null || !boxesTouch(own, shown)) continue;
    const earlier = gaps.get(run.id) ?? [];
    if (earlier.some((gap) => Math.abs((gap.fromM + gap.toM) / 2 - want.nearM) < enoughM)) {
      told.add(want.key);
      continue;
    }
    const place = placesOf(l, want, isSeen).find(
      ({ box, gap }) =>
        earlier.every((other) => gap.toM < other.fromM || gap.fromM > other.toM) &&
        boxCorners(box).every(isSeen) &&
        !index.near(box).some((line) => line.group !== runGroup(run.id) && segmentEnters(box, line, 0)) &&
        !leaders.some((line) => segmentEnters(box, line, -0.2)),
    );
    if (!place) continue;
    gaps.set(run.id, [...earlier, place.gap]);
    told.add(want.key);
    const { box } = place;
    const dropMm = SIZE.small * 0.35;
    items.push(
      textItem(
        { layer: 'notes', group: `row-mark:${run.id}`, of: run.id },
        { x: box.x + Math.sin(box.angleRad) * dropMm, y: box.y + Math.cos(box.angleRad) * dropMm },
        mark,
        { font: FONT, sizeMm: SIZE.small, anchor: 'middle', angleRad: box.angleRad },
      ),
    );
  }
  return { items, gaps, told };
}
