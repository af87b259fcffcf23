import {
  type Box,
  boxesTouch,
  distanceM,
  type PlanPoint,
  planToScreen,
  pointBetween,
  type ScreenView,
  segmentEntersBox,
} from '../../core/geometry';
import type { Printer } from '../../core/units';

/** A letter of the words under a length, and of a length itself, is about this wide; the margins of both sides. */
export const UNDER_LETTER_PX = 6.4;
const LETTER_PX = 8;
const MARGINS_PX = 14;
/** On shorter lines a length would hide its own ends, or stand beside the wrong line. */
const LEAST_ON_LINE_PX = 24;
const LEAST_ASIDE_PX = 40;

/** A line of the sketch whose length is to be written. */
export interface Measured {
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  /** What is being typed stands in place of the length. */
  readonly typed?: string;
  /** Stands aside of the line, to its right (1) or left (-1), and only where the line is as long as the words. */
  readonly aside?: 1 | -1;
  /** Further aside by this much, metres: beside a line that is drawn with a width. */
  readonly clearM?: number;
  /** Words under the length, where the line is long enough for them. */
  readonly under?: string;
  /** Where the length stands, if not in the middle of the straight line; and the length, if not that of the straight line. */
  readonly arc?: { readonly middle: PlanPoint; readonly lengthM: number };
}

/** A length as it stands on the sketch: its words and the ground they cover, pixels of the screen. */
export interface WrittenLength {
  readonly x: number;
  readonly y: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly text: string;
  readonly under: string;
}

/** Where and how a length is written, as near its line as keeps the line in sight; null where the line is too short for it. */
export function writtenLengthOf(line: Measured, view: ScreenView, printer: Printer): WrittenLength | null {
  const { from, to, typed = '', aside } = line;
  const lengthM = distanceM(from, to);
  const linePx = lengthM * view.pixelsPerM;
  if ((linePx < LEAST_ON_LINE_PX && typed === '') || (aside && linePx < LEAST_ASIDE_PX)) return null;
  const text = typed === '' ? printer.length(line.arc?.lengthM ?? lengthM) : `${typed}|`;
  const underPx = (line.under?.length ?? 0) * UNDER_LETTER_PX + MARGINS_PX;
  const under = linePx >= underPx ? (line.under ?? '') : '';
  const widthPx = Math.max(text.length * LETTER_PX + MARGINS_PX, under === '' ? 0 : underPx);
  const heightPx = under === '' ? 24 : 42;
  const middle = planToScreen(line.arc?.middle ?? pointBetween(from, to, 0.5), view);
  const [east, north] = [(to.x - from.x) / (lengthM || 1), (to.y - from.y) / (lengthM || 1)];
  // Far enough to clear the line whichever way it runs: half the words' width for an upright line, half their height for a level one.
  const clearPx =
    2 +
    (line.clearM ?? 0) * view.pixelsPerM +
    (line.arc && aside ? bentTowardPx(line, aside, view, widthPx, heightPx) : 0);
  const awayPx = aside
    ? aside * (clearPx + (Math.abs(east) * heightPx) / 2 + (Math.abs(north) * widthPx) / 2)
    : 0;
  return { x: middle.x + north * awayPx, y: middle.y + east * awayPx, widthPx, heightPx, text, under };
}

/**
 * How far an arc that bulges away from the side its length stands on comes back toward it over the extent of the words: by the
 * sagitta of a chord as long as they are, L squared over 8 r.
 */
function bentTowardPx(
  { from, to, arc }: Measured,
  aside: 1 | -1,
  view: ScreenView,
  widthPx: number,
  heightPx: number,
): number {
  if (!arc) return 0;
  const chordM = distanceM(from, to) || 1;
  const [east, north] = [(to.x - from.x) / chordM, (to.y - from.y) / chordM];
  const middle = pointBetween(from, to, 0.5);
  const rightM = (arc.middle.x - middle.x) * north - (arc.middle.y - middle.y) * east;
  const heightM = -aside * rightM;
  if (heightM <= 0) return 0;
  const radiusPx = (chordM ** 2 / (8 * heightM) + heightM / 2) * view.pixelsPerM;
  const alongPx = Math.abs(east) * widthPx + Math.abs(north) * heightPx;
  return Math.min(alongPx ** 2 / (8 * radiusPx), heightM * view.pixelsPerM);
}

const boxOf = ({ x, y, widthPx, heightPx }: WrittenLength): Box => ({
  minX: x - widthPx / 2,
  minY: y - heightPx / 2,
  maxX: x + widthPx / 2,
  maxY: y + heightPx / 2,
});

/** True where a length would lie over a line that is not its own: lines of the screen, as points. */
export function coversLine(
  length: WrittenLength,
  lines: readonly (readonly { readonly x: number; readonly y: number }[])[],
): boolean {
  const box = boxOf(length);
  return lines.some((line) =>
    line.some((from, index) => {
      const to = line[index + 1];
      return to !== undefined && segmentEntersBox(from, to, box);
    }),
  );
}

/** The lengths, in their order, but for those that would cover one before them. */
export function clearOfEachOther(lengths: readonly WrittenLength[]): readonly WrittenLength[] {
  const kept: WrittenLength[] = [];
  for (const length of lengths)
    if (kept.every((one) => !boxesTouch(boxOf(one), boxOf(length)))) kept.push(length);
  return kept;
}
