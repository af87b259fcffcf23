import {
  boxOf,
  closeRing,
  intersectRings,
  nearestOnPath,
  nestRings,
  orientRing,
  type PlanPoint,
  type Polygon,
  type Polyline,
  type Ring,
  ringAreaM2,
  rotatePoints,
  simplifyRing,
  subtractRings,
  translatePoints,
} from '../geometry';
import { roundBothWays } from './ground';
import { leastSeparationM } from './loop';
import { sectionsAt } from './sections';
import type { Sketch } from './sketch';
import type { LayoutInput } from './types';

/** Rows may be this much wider than asked, less than a crew keeps by eye. */
const SPACING_TOLERANCE_RATIO = 1.03;
const FEWEST_ROWS = 5;
/** The return line lies this share of a row from the turns beside it, so that no dry corner is left between four bends. */
const TIE_RATIO = 0.85;

/**
 * A loop with one row between two of its own, on two tees: an odd number of rows, where a plain loop would need one more.
 * Offered on ground without holes that every row crosses once, where the even spacing asks for an odd number of rows;
 * null elsewhere.
 */
export function centreRowSketch(
  ground: Polygon,
  input: LayoutInput,
  rowSpacingM: number,
  directionRad: number,
): Sketch | null {
  if (ground.holes.length > 0) return null;
  const outer = orientRing(rotatePoints(ground.outer, -directionRad), 'anticlockwise');
  const box = boxOf(outer);
  if (!box) return null;
  const heightM = box.maxY - box.minY;
  const gaps = Math.ceil(heightM / (rowSpacingM * SPACING_TOLERANCE_RATIO));
  const stepM = heightM / gaps;
  if (gaps % 2 === 1 || gaps + 1 < FEWEST_ROWS) return null;
  if (
    stepM < leastSeparationM(rowSpacingM, input.bendRadiusM) ||
    !isCrossedOnce(outer, box.minY, stepM, gaps)
  )
    return null;
  const stub = input.stubUp ? rotatePoints([input.stubUp], -directionRad)[0]! : null;
  const isRight = stub !== null && stub.x > (box.minX + box.maxX) / 2;
  const tieM = Math.max(leastSeparationM(rowSpacingM, input.bendRadiusM) * 1.01, TIE_RATIO * stepM);
  const loop = combOutline(outer, box.minY, stepM, gaps, isRight ? -tieM : tieM, input.bendRadiusM);
  const row = loop ? betweenRows(loop, box.minY + stepM) : null;
  if (!loop || !row) return null;
  const back = (path: Polyline): PlanPoint[] => rotatePoints(path, directionRad);
  return {
    layout: 'loop-centre-row',
    rowSpacingM: stepM,
    directionRad,
    key: 'loop-centre-row',
    circuits: [
      {
        runs: [
          { key: 'loop', role: 'loop', closed: true, path: back(loop) },
          { key: 'centre', role: 'centre-row', closed: false, path: back(row) },
        ],
        joins: back(row).map((at) => ({ at, runKeys: ['loop', 'centre'], fitting: 'tee' })),
        flushKey: 'loop',
        canTurn: false,
      },
    ],
  };
}

function isCrossedOnce(outer: Ring, minY: number, stepM: number, gaps: number): boolean {
  for (let k = 0; k < 2 * gaps; k += 1) {
    const pieces = sectionsAt([outer], minY + ((k + 0.5) * stepM) / 2);
    if (pieces.length !== 1 || pieces[0]![1] - pieces[0]![0] < 3 * stepM) return false;
  }
  return true;
}

/** The ground less every other band, save a strip at one side that ties the bands together. */
function combOutline(
  outer: Ring,
  minY: number,
  stepM: number,
  gaps: number,
  tieM: number,
  bendRadiusM: number,
): Polyline | null {
  const inner = intersectRings([outer], [orientRing(translatePoints(outer, tieM, 0), 'anticlockwise')]);
  const box = boxOf(outer)!;
  const cuts: Ring[] = [];
  for (let band = 2; band < gaps; band += 2) {
    const low = minY + band * stepM;
    cuts.push([
      { x: box.minX - 1, y: low },
      { x: box.maxX + 1, y: low },
      { x: box.maxX + 1, y: low + stepM },
      { x: box.minX - 1, y: low + stepM },
    ]);
  }
  const comb = subtractRings([outer], intersectRings(inner, cuts));
  const rounded = intersectRings(roundBothWays(comb, 1.05 * bendRadiusM), [outer]);
  const parts = nestRings(rounded).filter((part) => ringAreaM2(part.outer) > bendRadiusM * bendRadiusM);
  const only = parts[0];
  if (parts.length !== 1 || !only || only.holes.length > 0) return null;
  return closeRing(simplifyRing(orientRing(only.outer, 'anticlockwise'), 0.001));
}

/** The level line between the two rows of the double band, from tubing to tubing. */
function betweenRows(loop: Polyline, y: number): Polyline | null {
  const pieces = sectionsAt([loop.slice(0, -1)], y);
  if (pieces.length !== 1) return null;
  const ends = pieces[0]!.map((x) => nearestOnPath({ x, y }, loop).at);
  return [ends[0]!, ends[1]!];
}
