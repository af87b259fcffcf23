import {
  type Box,
  boxOfAll,
  cosOf,
  type PlanPoint,
  type Polygon,
  quantisePoints,
  type Region,
  rotatePoint,
  rotatePoints,
  sinOf,
} from '../../geometry';
import type { Side } from './bridges';
import { rowDirections } from './directions';
import { DryGuess } from './dryGuess';
import { cutAt } from './intervals';
import { type Downhill, type FixedLevel, findFixedLevels, layLevels } from './levels';
import type { LoopRequest } from './request';

/** A way to lay the rows, with a rough idea of what it costs, before any of it is drawn. */
export interface Candidate {
  readonly key: string;
  readonly directionRad: number;
  readonly side: Side;
  readonly levels: readonly number[];
  /** The ground turned so that rows run along x. */
  readonly frame: Frame;
  readonly roughCostM: number;
  /** The part of it for ground that no row would reach. */
  readonly dryCostM: number;
}

/** Ground turned by minus the row direction about `centre`. */
export interface Frame {
  readonly ground: Region;
  readonly box: Box;
  readonly directionRad: number;
  readonly centre: PlanPoint;
  readonly stubUp: PlanPoint | null;
}

/** What a square metre of dry ground costs beside a metre of tubing, in multiples of the tubing it would take. */
const DRY_WEIGHT = 16;

/** Turns a part of the ground into the frame of a direction. */
export function frameOf(part: Polygon, directionRad: number, stubUp: PlanPoint | null): Frame {
  const outerBox = boxOfAll([part.outer])!;
  const centre = { x: (outerBox.minX + outerBox.maxX) / 2, y: (outerBox.minY + outerBox.maxY) / 2 };
  const ground = [part.outer, ...part.holes].map((ring) =>
    quantisePoints(rotatePoints(ring, -directionRad, centre)),
  );
  return {
    ground,
    box: boxOfAll(ground)!,
    directionRad,
    centre,
    stubUp: stubUp ? rotatePoint(stubUp, -directionRad, centre) : null,
  };
}

/** Back from a frame to plan metres. */
export function fromFrame(points: readonly PlanPoint[], frame: Frame): PlanPoint[] {
  return quantisePoints(rotatePoints(points, frame.directionRad, frame.centre));
}

/** Every way of laying the rows of a part that is worth drawing, the most promising first; ties by key. */
export function findCandidates(part: Polygon, request: LoopRequest, spacingM: number): Candidate[] {
  const isRough = request.quality === 'preview' || request.quality === 'following';
  const sideCount = isRough ? 4 : 6;
  const directions = wantedDirections(part, request, spacingM, sideCount);
  const candidates = directions.flatMap((directionRad) => {
    const frame = frameOf(part, directionRad, request.stubUp);
    const fixed = findFixedLevels(frame.ground, spacingM)
      .filter(
        (level) => level.y > frame.box.minY + 0.4 * spacingM && level.y < frame.box.maxY - 0.4 * spacingM,
      )
      .slice(0, isRough ? 3 : 4);
    const guess = new DryGuess(frame.ground, spacingM, request.minSeparationM);
    return subsetsOf(fixed).flatMap(({ subset, mask }) =>
      levelCandidates(frame, subset, mask, request, spacingM, guess),
    );
  });
  return candidates.sort(
    (one, other) =>
      one.roughCostM - other.roughCostM || (one.key < other.key ? -1 : one.key > other.key ? 1 : 0),
  );
}

function wantedDirections(part: Polygon, request: LoopRequest, spacingM: number, atMost: number): number[] {
  if (request.directionRad !== null) return [request.directionRad];
  if (request.slope) return [contourRad(request.slope.towardRad)];
  return rowDirections(part, 1.5 * spacingM, atMost);
}

/** Direction of the contour, anticlockwise from east, of ground that falls toward a compass bearing. */
export function contourRad(towardRad: number): number {
  const contour = -towardRad % Math.PI;
  return contour < 0 ? contour + Math.PI : contour;
}

function subsetsOf(fixed: readonly FixedLevel[]): { subset: FixedLevel[]; mask: number }[] {
  return Array.from({ length: 1 << fixed.length }, (_, mask) => ({
    mask,
    subset: fixed.filter((_, index) => (mask >> index) & 1),
  }));
}

function levelCandidates(
  frame: Frame,
  subset: readonly FixedLevel[],
  mask: number,
  request: LoopRequest,
  spacingM: number,
  guess: DryGuess,
): Candidate[] {
  const levels = layLevels(
    frame.box.minY,
    frame.box.maxY,
    subset,
    spacingM,
    request.minSeparationM,
    downhillOf(frame, request),
  );
  if (!levels) return [];
  const rowsM = roughRowsM(frame.ground, levels, spacingM, request.turnWeightM ?? 1);
  const dryCostM = (DRY_WEIGHT * guess.dryM2(levels)) / spacingM;
  return (['left', 'right'] as const).map((side) => ({
    key: `${Math.round((frame.directionRad * 1800) / Math.PI)}/${mask}/${side}`,
    directionRad: frame.directionRad,
    side,
    levels,
    frame,
    roughCostM: rowsM + dryCostM + stubCostM(frame, side),
    dryCostM,
  }));
}

/** Rows near the stub-up's side save the plain lead: half the way across counts. */
function stubCostM(frame: Frame, side: Side): number {
  if (!frame.stubUp) return side === 'left' ? 0 : 1e-6;
  const edgeX = side === 'left' ? frame.box.minX : frame.box.maxX;
  return 0.05 * Math.abs(frame.stubUp.x - edgeX);
}

function downhillOf(frame: Frame, request: LoopRequest): Downhill {
  if (!request.slope || request.slope.ratio <= 0) return null;
  const east = sinOf(request.slope.towardRad);
  const north = cosOf(request.slope.towardRad);
  const across = -east * sinOf(frame.directionRad) + north * cosOf(frame.directionRad);
  return Math.abs(across) < 0.5 ? null : across < 0 ? 'low' : 'high';
}

/** Length of the rows and their turns, from level lines alone, metres. */
function roughRowsM(
  ground: Region,
  levels: readonly number[],
  spacingM: number,
  turnWeightM: number,
): number {
  const nearM = 0.004;
  let lengthM = 0;
  let pieces = 0;
  levels.forEach((y, index) => {
    for (const [from, to] of cutAt(ground, index % 2 === 0 ? y + nearM : y - nearM)) {
      if (to - from < 0.5 * spacingM) continue;
      lengthM += to - from;
      pieces++;
    }
  });
  return lengthM + pieces * (spacingM + turnWeightM);
}
