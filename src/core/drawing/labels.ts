import { type PaperPoint, type PlanPoint, pointInRing } from '../geometry';
import { isInRect } from './blocks';
import { type Mark, pathItem, polylineSteps, rectSteps, stroke, textItem, WEIGHT } from './pen';
import type { Candidate, Choice } from './placement/choose';
import type { FreePaper } from './placement/freePaper';
import { boxCorners, type InkSegment, inkOf, segmentEnters, type TurnedBox } from './placement/ink';
import type { InkIndex } from './placement/inkIndex';
import { FLAG_HEIGHT_MM, type FlagSize, runMarkItems, runMarkWidthMm } from './runMarks';
import { type SymbolKey, symbolItems } from './symbols';
import { measureText, printable } from './text';
import type { DrawingItem, Font, Ink } from './types';

/** One line of a label. */
export interface LabelLine {
  readonly text: string;
  readonly font?: Font;
  readonly sizeMm?: number;
  readonly ink?: Ink;
}

/** Lettering to be set near a place, with a leader where it stands further off. */
export interface LabelRequest {
  readonly key: string;
  readonly of?: string;
  readonly layer?: string;
  /** What leaving it out costs: run marks and cautions far above conveniences. */
  readonly weight: number;
  readonly lines: readonly LabelLine[];
  /** A run's mark, drawn as a plant label; a small one where runs lie close. */
  readonly flag?: string;
  readonly flagSize?: FlagSize;
  /** A symbol before the first line, for what must not cover the place it speaks of. */
  readonly symbol?: SymbolKey;
  /** Places on paper the label may point at; the nearest is used. */
  readonly targets: readonly PaperPoint[];
  readonly reachMm: number;
  /** How many times its reach it may be taken further off where it finds no place; 4 unless said. */
  readonly furthestTimes?: number;
  /** How far places offered stand apart, as a multiple of the usual. */
  readonly sparseness?: number;
  /** False for names that stand on what they name. */
  readonly leader: boolean;
  /** The outline that the label names: it stands inside it wherever there is clear paper. */
  readonly within?: readonly PaperPoint[];
  /** Drawn wherever the label is set: the feet of a dimension. */
  readonly extra?: readonly DrawingItem[];
}

/** A candidate that can be drawn. */
export interface DrawnCandidate extends Candidate {
  readonly draw: () => readonly DrawingItem[];
}

/** The blank paper and the printed lines that labels are set against. */
export interface Ground {
  readonly free: FreePaper;
  readonly index: InkIndex;
}

const STEP_MM = 3.15;
const FLAG_GAP_MM = 1.6;
const SYMBOL_MM = 3.2;
const AROUND_MM = 0.7;
const MOST_CANDIDATES = 26;
const CROSSING_COST = 1.6;
/** A leader over a whole bed is ugly, but better than no label. */
const MOST_CROSSINGS = 15;
/** Standing outside what it names costs a label as much as so many millimetres further away. */
const OUTSIDE_MM = 24;

interface Size {
  readonly widthMm: number;
  /** Height of the widest line, from the top: where a leader meets the right side. */
  readonly widestMm: number;
  readonly heightMm: number;
  readonly textXMm: number;
  /** Height of the middle of a flag, from the top. */
  readonly flagYMm: number;
}

function sizeOf(request: LabelRequest): Size {
  const symbol = request.symbol === undefined ? 0 : SYMBOL_MM;
  const flagSize = request.flagSize ?? 'usual';
  const flag = request.flag === undefined ? symbol : runMarkWidthMm(request.flag, flagSize);
  const widths = request.lines.map((line) =>
    measureText(printable(line.text), line.font ?? 'narrow', line.sizeMm ?? 2.2),
  );
  const text = Math.max(0, ...widths);
  const gap = flag > 0 && text > 0 ? FLAG_GAP_MM : 0;
  return {
    widthMm: flag + gap + text,
    heightMm: Math.max(flag > 0 ? FLAG_HEIGHT_MM[flagSize] + 0.3 : 0, request.lines.length * STEP_MM - 0.75),
    textXMm: flag + gap,
    flagYMm: (FLAG_HEIGHT_MM[flagSize] + 0.2) / 2,
    widestMm: Math.max(0, widths.indexOf(text)) * STEP_MM + 1.3,
  };
}

interface Spot {
  readonly x: number;
  readonly y: number;
  readonly target: PaperPoint;
  readonly distanceMm: number;
  /** Distance, and what it stands outside of. */
  readonly rankMm: number;
}

/** The target nearest to a label set at a place; null where none is within reach. Asked of every free place, so it makes no lists. */
function nearestTarget(
  targets: readonly PaperPoint[],
  x: number,
  y: number,
  size: Size,
  reachMm: number,
): { readonly target: PaperPoint; readonly distanceMm: number } | null {
  let nearest = targets[0]!;
  let leastMm2 = Number.POSITIVE_INFINITY;
  for (const target of targets) {
    const dx = Math.max(x - target.x, 0, target.x - (x + size.widthMm));
    const dy = Math.max(y - target.y, 0, target.y - (y + size.heightMm));
    const mm2 = dx * dx + dy * dy;
    if (mm2 < leastMm2) {
      leastMm2 = mm2;
      nearest = target;
    }
  }
  const distanceMm = Math.sqrt(leastMm2);
  return distanceMm > reachMm ? null : { target: nearest, distanceMm };
}

const standsInside = (ring: readonly PlanPoint[], x: number, y: number, size: Size): boolean =>
  [0, size.widthMm].every((dx) =>
    [0, size.heightMm].every((dy) => pointInRing({ x: x + dx, y: y + dy }, ring)),
  );

/** Free positions no further than a reach from the targets, on a grid that stands the same whatever the reach. */
function spotsWithin(request: LabelRequest, size: Size, free: FreePaper, reachMm: number): Spot[] {
  const xs = request.targets.map((p) => p.x);
  const ys = request.targets.map((p) => p.y);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const ring = request.within?.map((p) => ({ x: p.x, y: p.y }));
  const { room } = free;
  const step = Math.max(1.1, Math.min(2.4, (request.reachMm + maxX - minX) / 40));
  const firstOf = (from: number, least: number): number =>
    from + Math.max(0, Math.ceil((least - from) / step)) * step;
  const inX = Math.max(minX - reachMm - size.widthMm, room.x + AROUND_MM);
  const inY = Math.max(minY - reachMm - size.heightMm, room.y + AROUND_MM);
  const fromX = firstOf(minX - request.reachMm - size.widthMm, inX);
  const fromY = firstOf(minY - request.reachMm - size.heightMm, inY);
  const toX = Math.min(maxX + reachMm, room.x + room.widthMm - size.widthMm - AROUND_MM);
  const toY = Math.min(maxY + reachMm, room.y + room.heightMm - size.heightMm - AROUND_MM);
  const [widthMm, heightMm] = [size.widthMm + 2 * AROUND_MM, size.heightMm + 2 * AROUND_MM];
  const spots: Spot[] = [];
  for (let y = fromY; y <= toY; y += step) {
    for (let x = fromX; x <= toX; x += step) {
      if (!free.isFree(x - AROUND_MM, y - AROUND_MM, widthMm, heightMm)) continue;
      const near = nearestTarget(request.targets, x, y, size, reachMm);
      if (near === null) continue;
      const { target, distanceMm } = near;
      const rankMm = distanceMm + (ring === undefined || standsInside(ring, x, y, size) ? 0 : OUTSIDE_MM);
      if (rankMm <= reachMm || reachMm === request.reachMm) spots.push({ x, y, target, distanceMm, rankMm });
    }
  }
  return spots;
}

/** Most labels find all the places they are offered within so much of their reach: the rest is then not looked through. */
const LOOKS = [0.15, 0.35, 1];

/** Free positions round the targets, nearest first, thinned so that they differ. */
function freeSpots(request: LabelRequest, size: Size, free: FreePaper): readonly Spot[] {
  const apart = Math.max(2, Math.min(size.heightMm, 8) * 0.7) * (request.sparseness ?? 1);
  let kept: Spot[] = [];
  for (const share of LOOKS) {
    const spots = spotsWithin(request, size, free, request.reachMm * share);
    spots.sort((a, b) => a.rankMm - b.rankMm || a.y - b.y || a.x - b.x);
    kept = [];
    for (const spot of spots) {
      if (kept.length >= MOST_CANDIDATES) return kept;
      if (kept.every((k) => Math.abs(k.x - spot.x) + Math.abs(k.y - spot.y) >= apart)) kept.push(spot);
    }
  }
  return kept;
}

/** Where a leader meets its label: the middle of a side, or the height of the first line at the sides. */
function leaderEnd(spot: Spot, size: Size): PaperPoint {
  const { x, y, target } = spot;
  const sideY = y + Math.min(size.heightMm / 2, 1.6);
  const ends = [
    { x: x - 0.6, y: sideY },
    { x: x + size.widthMm + 0.6, y: y + size.widestMm },
    { x: x + Math.min(size.widthMm / 2, 8), y: y - 0.6 },
    { x: x + Math.min(size.widthMm / 2, 8), y: y + size.heightMm + 0.6 },
  ];
  return ends.reduce((best, end) =>
    Math.hypot(end.x - target.x, end.y - target.y) < Math.hypot(best.x - target.x, best.y - target.y)
      ? end
      : best,
  );
}

function drawLabel(
  request: LabelRequest,
  spot: Spot,
  size: Size,
  leader: InkSegment | null,
): readonly DrawingItem[] {
  const mark: Mark = {
    layer: request.layer ?? 'notes',
    group: `label:${request.key}`,
    ...(request.of === undefined ? {} : { of: request.of }),
  };
  const items: DrawingItem[] = [...(request.extra ?? [])];
  if (leader) {
    items.push(pathItem(mark, polylineSteps([leader.a, leader.b]), { stroke: stroke('ink', WEIGHT.thin) }));
    items.push(pathItem(mark, rectSteps(leader.a.x - 0.3, leader.a.y - 0.3, 0.6, 0.6), { fill: 'ink' }));
  }
  if (request.flag !== undefined)
    items.push(
      ...runMarkItems(mark, { x: spot.x, y: spot.y + size.flagYMm }, request.flag, request.flagSize),
    );
  if (request.symbol !== undefined)
    items.push(
      ...symbolItems(mark, request.symbol, { x: spot.x + SYMBOL_MM / 2, y: spot.y + 1.35 }, SYMBOL_MM),
    );
  request.lines.forEach((line, i) => {
    items.push(
      textItem(mark, { x: spot.x + size.textXMm, y: spot.y + 2 + i * STEP_MM }, line.text, {
        font: line.font ?? 'narrow',
        sizeMm: line.sizeMm ?? 2.2,
        ink: line.ink ?? 'ink',
      }),
    );
  });
  return items;
}

const LEADER_FROM_MM = 2.4;

/** Every way a label may be set on blank paper near its place. */
export function labelChoice(request: LabelRequest, ground: Ground): Choice<DrawnCandidate> {
  const size = sizeOf(request);
  const lines = inkOf(request.extra ?? []).segments;
  const spots = request.targets.length === 0 ? [] : freeSpots(request, size, ground.free);
  const candidates = spots.flatMap((spot): DrawnCandidate[] => {
    const box: TurnedBox = {
      x: spot.x + size.widthMm / 2,
      y: spot.y + size.heightMm / 2,
      halfWidthMm: size.widthMm / 2,
      halfHeightMm: size.heightMm / 2,
      angleRad: 0,
    };
    const end = leaderEnd(spot, size);
    const leader: InkSegment | null =
      request.leader && spot.distanceMm > LEADER_FROM_MM
        ? { a: spot.target, b: end, halfWidthMm: 0.09, group: undefined }
        : null;
    if (leader && segmentEnters(box, leader, 0.1)) return [];
    if (lines.some((line) => segmentEnters(box, line, -0.3))) return [];
    const crossed = leader ? ground.index.crossings(leader.a, leader.b, MOST_CROSSINGS) : 0;
    return [
      {
        cost: spot.rankMm * 0.5 + crossed * CROSSING_COST + (leader ? 2 : 0),
        boxes: [box],
        leaders: leader ? [leader] : [],
        lines,
        draw: () => drawLabel(request, spot, size, leader),
      },
    ];
  });
  return { key: request.key, weight: request.weight, candidates };
}

/** A distance to be written between two places, on a line aside of them. */
export interface DimensionRequest {
  readonly key: string;
  readonly weight: number;
  readonly from: PaperPoint;
  readonly to: PaperPoint;
  readonly text: string;
  /** Distances aside to try, mm; positive to the right of from -> to on paper. */
  readonly asidesMm: readonly number[];
  /** True: set as asked even over other lines, for a dimension the designer drew. */
  readonly forced?: boolean;
}

const WITNESS_FROM_MM = 1.5;

/** Every clear way to draw a dimension: line with square feet, lettering on the side away from what it measures. */
export function dimensionChoice(request: DimensionRequest, ground: Ground): Choice<DrawnCandidate> {
  const { from, to } = request;
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (length < 1e-6) return { key: request.key, weight: request.weight, candidates: [] };
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const normal = { x: -uy, y: ux };
  const heading = -Math.atan2(uy, ux);
  const flips = heading > Math.PI / 2 + 1e-6 || heading <= -Math.PI / 2 + 1e-6;
  const angleRad = flips ? heading + Math.PI * (heading > 0 ? -1 : 1) : heading;
  const width = measureText(printable(request.text), 'narrow', 2.2);
  const up = { x: -Math.sin(angleRad), y: -Math.cos(angleRad) };
  const candidates = request.asidesMm.flatMap((aside, i): DrawnCandidate[] => {
    const shift = (p: PaperPoint, d: number): PaperPoint => ({
      x: p.x + normal.x * d,
      y: p.y + normal.y * d,
    });
    const [a, b] = [shift(from, aside), shift(to, aside)];
    const middle = { x: (a.x + b.x) / 2 + up.x * 1.85, y: (a.y + b.y) / 2 + up.y * 1.85 };
    const box = { ...middle, halfWidthMm: width / 2, halfHeightMm: 0.95, angleRad };
    const line: InkSegment = { a, b, halfWidthMm: 0.09, group: undefined };
    const roomy = { ...box, halfWidthMm: box.halfWidthMm + 0.5, halfHeightMm: box.halfHeightMm + 0.25 };
    const isClear =
      width + 2 < length &&
      [a, b, ...boxCorners(roomy)].every((p) => isInRect(ground.free.room, p)) &&
      !ground.index.near(roomy).some((s) => segmentEnters(roomy, s, 0));
    if (!isClear || (!request.forced && ground.index.crossings(a, b, 1) > 0)) return [];
    return [
      {
        cost: i * 0.8 + Math.abs(aside) * 0.1,
        boxes: [box],
        leaders: [
          line,
          ...(Math.abs(aside) > WITNESS_FROM_MM
            ? [
                { ...line, a: from, b: a },
                { ...line, a: to, b },
              ]
            : []),
        ],
        draw: () => drawDimension(request, a, b, middle, angleRad, aside, shift),
      },
    ];
  });
  return { key: request.key, weight: request.weight, candidates };
}

function drawDimension(
  request: DimensionRequest,
  a: PaperPoint,
  b: PaperPoint,
  middle: PaperPoint,
  angleRad: number,
  aside: number,
  shift: (p: PaperPoint, d: number) => PaperPoint,
): readonly DrawingItem[] {
  const mark = { layer: 'dimensions', group: `dimension:${request.key}` };
  const sign = Math.sign(aside) || 1;
  const witness = (p: PaperPoint, foot: PaperPoint): DrawingItem =>
    pathItem(mark, polylineSteps([shift(p, sign * 0.9), shift(foot, sign * 0.8)]), {
      stroke: stroke('ink-2', WEIGHT.hair),
    });
  return [
    ...(Math.abs(aside) > WITNESS_FROM_MM ? [witness(request.from, a), witness(request.to, b)] : []),
    pathItem(mark, polylineSteps([a, b]), { stroke: stroke('ink', WEIGHT.thin) }),
    ...[a, b].map((p) => pathItem(mark, rectSteps(p.x - 0.45, p.y - 0.45, 0.9, 0.9), { fill: 'ink' })),
    textItem(
      mark,
      { x: middle.x + Math.sin(angleRad) * 0.8, y: middle.y + Math.cos(angleRad) * 0.8 },
      request.text,
      {
        sizeMm: 2.2,
        anchor: 'middle',
        angleRad,
      },
    ),
  ];
}
