import type { Design, DesignedBed } from '../../design';
import { type PlanPoint, segmentCrossing } from '../../geometry';
import { METRES_PER_FOOT, type Printer } from '../../units';
import { sheetText as words } from '../../words';
import { type Block, gapPart, LINE_MM, type Part, paragraphParts } from '../blocks';
import { bedCorners } from '../figures';
import { lineItem, SIZE, stroke, textItem, WEIGHT } from '../pen';

const MARK = { layer: 'tables' };

/** More corners than this is a curve, drawn as points. */
const MOST_CORNERS = 14;
const MOST_STATIONS = 24;

/** Beds whose rows no straight jig can lay, or whose rows end on a curve. */
const needsStations = (bed: DesignedBed): boolean => {
  const runs = bed.layout.runs.filter((run) => run.emittersM.length > 0);
  const total = runs.reduce((sum, run) => sum + run.lengthM, 0);
  const straight = runs.reduce((sum, run) => sum + run.lengthM * run.straightFraction, 0);
  const corners = bed.layout.outline[0]?.outer.length ?? 0;
  return total > 0 && (bed.layout.layout === 'contour' || straight / total < 0.4 || corners > MOST_CORNERS);
};

/** Where tubing crosses a line square to a base line: distances on its left positive. */
function crossingsAt(bed: DesignedBed, base: PlanPoint, ux: number, uy: number): readonly number[] {
  const reach = 200;
  const from = { x: base.x + uy * reach, y: base.y - ux * reach };
  const to = { x: base.x - uy * reach, y: base.y + ux * reach };
  const found: number[] = [];
  for (const run of bed.layout.runs) {
    if (run.emittersM.length === 0) continue;
    for (let i = 1; i < run.path.length; i++) {
      const hit = segmentCrossing(run.path[i - 1]!, run.path[i]!, from, to);
      if (hit) found.push(-(hit.x - base.x) * uy + (hit.y - base.y) * ux);
    }
  }
  return found.sort((a, b) => a - b);
}

const offsetText = (d: number, print: Printer): string =>
  d < 0 ? words.rightOf(print.length(-d)) : words.leftOf(print.length(d));

const STATION_MM = 11;
const OFFSET_MM = 12.6;

const stationHead = (widthMm: number): Part => ({
  heightMm: 4.2,
  draw: (x, y) => [
    textItem(MARK, { x, y: y + 1.9 }, words.heads.stationAt, { sizeMm: SIZE.small, ink: 'ink-2' }),
    textItem(MARK, { x: x + STATION_MM + 2, y: y + 1.9 }, words.heads.offsets, {
      sizeMm: SIZE.small,
      ink: 'ink-2',
    }),
    lineItem(MARK, { x, y: y + 2.9 }, { x: x + widthMm, y: y + 2.9 }, stroke('ink', WEIGHT.hair)),
  ],
});

/** One station: its distance along the tape, then every crossing in a cell of its own. */
function stationPart(
  row: { readonly at: string; readonly offsets: readonly string[] },
  widthMm: number,
): Part {
  const across = Math.max(1, Math.floor((widthMm - STATION_MM) / OFFSET_MM));
  const lines = Math.ceil(row.offsets.length / across);
  return {
    heightMm: lines * LINE_MM + 0.5,
    draw: (x, y) => [
      textItem(MARK, { x, y: y + 2.3 }, row.at, { font: 'narrow-semibold', sizeMm: SIZE.note }),
      ...row.offsets.map((text, i) =>
        textItem(
          MARK,
          {
            x: x + STATION_MM + ((i % across) + 1) * OFFSET_MM,
            y: y + 2.3 + Math.floor(i / across) * LINE_MM,
          },
          text,
          { sizeMm: SIZE.note, anchor: 'end' },
        ),
      ),
    ],
  };
}

/** Stations along the line of two far corners for beds no jig can lay. */
export function stationBlocks(design: Design, print: Printer): readonly Block[] {
  return design.beds.filter(needsStations).flatMap((bed) => {
    const corners = bedCorners(bed);
    let pair: readonly [number, number] | null = null;
    let longest = 0;
    corners.forEach((a, i) => {
      corners.slice(i + 1).forEach((b, k) => {
        const d = Math.hypot(a.x - b.x, a.y - b.y);
        if (d > longest) {
          longest = d;
          pair = [i, i + 1 + k];
        }
      });
    });
    if (!pair) return [];
    const [i, j] = pair as readonly [number, number];
    const [a, b] = [corners[i]!, corners[j]!];
    const [ux, uy] = [(b.x - a.x) / longest, (b.y - a.y) / longest];
    const unit = print.system === 'us' ? 3 * METRES_PER_FOOT : 1;
    const every = unit * Math.max(1, Math.ceil(longest / unit / MOST_STATIONS));
    const count = Math.floor(longest / every);
    const rows = Array.from({ length: count }, (_, k) => {
      const at = (k + 1) * every;
      const offsets = crossingsAt(bed, { x: a.x + ux * at, y: a.y + uy * at }, ux, uy);
      return { at: print.length(at), offsets: offsets.map((d) => offsetText(d, print)) };
    }).filter((row) => row.offsets.length > 0);
    return [
      {
        key: `stations-${bed.id}`,
        title: words.tables.stations(bed.name),
        head: (widthMm: number) => [stationHead(widthMm)],
        parts: (widthMm: number) => [
          ...rows.map((row) => stationPart(row, widthMm)),
          gapPart(0.8),
          ...paragraphParts(MARK, words.stationsNote(i + 1, j + 1), widthMm),
        ],
      },
    ];
  });
}
