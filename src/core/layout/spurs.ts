import {
  type Box,
  boxesTouch,
  boxOf,
  boxRing,
  distanceM,
  growBox,
  inflatePath,
  intersectRings,
  nearestOnPath,
  nestRings,
  type PlanPoint,
  type Polygon,
  type Polyline,
  pointAlong,
  pointInPolygon,
  polygonAreaM2,
  polylineLengthM,
  subtractRings,
  uniteRings,
} from '../geometry';
import { centrelineOf } from './centreline';
import { bendCorners } from './corners';
import { COVERED_RATIO } from './coverage';
import { leastSeparationM } from './loop';
import type { Circuit, Sketch, SketchJoin, SketchRun } from './sketch';
import type { Coverage, LayoutInput } from './types';

/** Dry ground smaller than this share of a row square is not worth a tee. */
const LEAST_DRY_ROWS2 = 0.12;
const MOST_SPURS = 8;
/** A dry spot stands for a square of one row spacing that it lies somewhere in: all of it lies within this many rows. */
const LOOKED_AT_ROWS = 1.1;
/** Spurs keep this much further off other tubing than they must, metres: their corners are bent after they are drawn. */
const ROOM_M = 0.005;
/** A spur shorter than this many rows waters nothing its tee does not. */
const SHORTEST_ROWS = 0.8;

/** One row on a tee, down the middle of a dry tail to an end cap. */
export interface Spur {
  readonly circuit: number;
  readonly runKey: string;
  readonly path: Polyline;
}

/**
 * Spurs into the tails that a sketch's loops leave dry: horns, points, the thin end of a taper. Largest tail first.
 *
 * @param dry  where the sketch leaves ground dry, as its coverage was measured; tails are looked for there alone
 */
export function spursFor(sketch: Sketch, ground: Polygon, input: LayoutInput, dry: Coverage['gaps']): Spur[] {
  const paths = sketch.circuits.flatMap((circuit) => circuit.runs.map((run) => run.path));
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM) + ROOM_M;
  const offM = Math.max(COVERED_RATIO * sketch.rowSpacingM, leastM);
  const lookM = LOOKED_AT_ROWS * Math.max(input.rowSpacingM, sketch.rowSpacingM);
  const windows = dry
    .filter((gap) => gap.distanceM > offM)
    .map(({ x, y }) => growBox({ minX: x, minY: y, maxX: x, maxY: y }, lookM));
  if (windows.length === 0) return [];
  return dryPieces(ground, paths, offM, sketch.rowSpacingM, windows)
    .slice(0, MOST_SPURS)
    .flatMap((piece) => spurInto(piece, ground, sketch.circuits, input, sketch.rowSpacingM) ?? []);
}

/** The sketch with spurs added to the circuits they start from. */
export function withSpurs(sketch: Sketch, spurs: readonly Spur[]): Sketch {
  const circuits = sketch.circuits.map((circuit, index): Circuit => {
    const own = spurs.filter((spur) => spur.circuit === index);
    const first = circuit.runs.length;
    const runs = own.map(
      (spur, k): SketchRun => ({
        key: `spur-${first + k}`,
        role: 'single-row',
        closed: false,
        path: spur.path,
      }),
    );
    const joins = own.flatMap((spur, k): SketchJoin[] => [
      { at: spur.path[0]!, runKeys: [spur.runKey, `spur-${first + k}`], fitting: 'tee' },
      { at: spur.path.at(-1)!, runKeys: [`spur-${first + k}`], fitting: 'end-cap' },
    ]);
    return own.length > 0
      ? { ...circuit, runs: [...circuit.runs, ...runs], joins: [...circuit.joins, ...joins] }
      : circuit;
  });
  return { ...sketch, circuits };
}

/** Ground in some windows further than `offM` from all tubing, where a spur may lie, largest piece first. */
function dryPieces(
  ground: Polygon,
  paths: readonly Polyline[],
  offM: number,
  rowSpacingM: number,
  windows: readonly Box[],
): Polygon[] {
  const seen = intersectRings([ground.outer, ...ground.holes], uniteRings(windows.map(boxRing)));
  const about = windows.map((window) => growBox(window, offM));
  const reached = paths.flatMap((path) => partsAbout(path, about)).flatMap((part) => inflatePath(part, offM));
  return nestRings(subtractRings(seen, reached))
    .filter((piece) => polygonAreaM2(piece) > LEAST_DRY_ROWS2 * rowSpacingM * rowSpacingM)
    .sort((one, other) => polygonAreaM2(other) - polygonAreaM2(one));
}

/** The stretches of a path whose edges touch some boxes. */
function partsAbout(path: Polyline, boxes: readonly Box[]): Polyline[] {
  const parts: PlanPoint[][] = [];
  let isGoingOn = false;
  for (let index = 1; index < path.length; index++) {
    const edge = [path[index - 1]!, path[index]!];
    const box = boxOf(edge)!;
    if (!boxes.some((other) => boxesTouch(box, other))) isGoingOn = false;
    else if (isGoingOn) parts.at(-1)!.push(path[index]!);
    else {
      parts.push(edge);
      isGoingOn = true;
    }
  }
  return parts;
}

/** The spur from the tubing nearest to either end of a dry piece, the nearer end first; null where neither can be reached. */
function spurInto(
  dry: Polygon,
  ground: Polygon,
  circuits: readonly Circuit[],
  input: LayoutInput,
  rowSpacingM: number,
): Spur | null {
  const middle = centrelineOf(dry, 0.12 * rowSpacingM) ?? acrossOf(dry);
  const ways = [middle, [...middle].reverse()].map((way) => ({ way, tee: teeFor(way[0]!, circuits) }));
  ways.sort((one, other) => one.tee.distanceM - other.tee.distanceM);
  for (const { way, tee } of ways) {
    const path = bendCorners([tee.at, ...withoutBackSteps(tee.at, way)], 1.5 * input.bendRadiusM);
    if (polylineLengthM(path) >= SHORTEST_ROWS * rowSpacingM && staysOn(path, ground))
      return { circuit: tee.circuit, runKey: tee.runKey, path };
  }
  return null;
}

/** The two points of a blob furthest apart: a row through it where it has no middle line. */
function acrossOf(piece: Polygon): PlanPoint[] {
  let best: [PlanPoint, PlanPoint] = [piece.outer[0]!, piece.outer[0]!];
  for (const a of piece.outer)
    for (const b of piece.outer) if (distanceM(a, b) > distanceM(best[0], best[1])) best = [a, b];
  return best;
}

function teeFor(
  point: PlanPoint,
  circuits: readonly Circuit[],
): { at: PlanPoint; distanceM: number; circuit: number; runKey: string } {
  let best = { at: point, distanceM: Number.POSITIVE_INFINITY, circuit: 0, runKey: '' };
  circuits.forEach((circuit, index) => {
    for (const run of circuit.runs) {
      if (run.role === 'connector') continue;
      const near = nearestOnPath(point, run.path);
      if (near.distanceM < best.distanceM)
        best = { at: near.at, distanceM: near.distanceM, circuit: index, runKey: run.key };
    }
  });
  return best;
}

/** Drops leading points that would make the spur turn back on its way out. */
function withoutBackSteps(tee: PlanPoint, path: readonly PlanPoint[]): PlanPoint[] {
  const kept = [...path];
  while (kept.length > 1) {
    const [first, second] = [kept[0]!, kept[1]!];
    const ahead = (first.x - tee.x) * (second.x - first.x) + (first.y - tee.y) * (second.y - first.y);
    const cosine = ahead / (distanceM(tee, first) * distanceM(first, second) || 1);
    if (distanceM(tee, first) > 1e-3 && cosine > 0.3) break;
    kept.shift();
  }
  return kept;
}

function staysOn(path: Polyline, ground: Polygon): boolean {
  const lengthM = polylineLengthM(path);
  const count = Math.max(4, Math.ceil(lengthM / 0.1));
  for (let k = 1; k < count; k += 1)
    if (!pointInPolygon(pointAlong(path, (lengthM * k) / count).at, ground)) return false;
  return true;
}
