import {
  closeRing,
  cosOf,
  distanceM,
  headingOf,
  headingRad,
  nearestOnPath,
  type PlanPoint,
  type Polygon,
  type Polyline,
  polylineLengthM,
  rotatePoints,
  simplifyPath,
  sinOf,
  slicePath,
} from '../geometry';
import { sectionsAt } from './sections';
import type { Circuit, Sketch, SketchJoin, SketchRun } from './sketch';
import type { LayoutInput } from './types';

/** One row in the turned frame, where rows run along x: its height and the pieces of it on the ground. */
interface Row {
  readonly y: number;
  readonly pieces: readonly (readonly [number, number])[];
}

/** Pipe that turns more than this needs an elbow. */
const ELBOW_RAD = Math.PI / 9;
/** A row must be this much of the spacing long to be worth a tee. */
const SHORTEST_ROW_RATIO = 0.5;

/**
 * Rows of tubing between a supply header at one side and a flush header at the other, or fed from a supply header across
 * their middle with a flush header at each side. Headers are plain pipe along the edge of the usable ground, with a real
 * fitting wherever they meet a row or turn. Empty where rows cannot all reach a header.
 */
export function lateralSketches(
  ground: Polygon,
  input: LayoutInput,
  rowSpacingM: number,
  directionRad: number,
): Sketch[] {
  const turned: Polygon = {
    outer: rotatePoints(ground.outer, -directionRad),
    holes: ground.holes.map((hole) => rotatePoints(hole, -directionRad)),
  };
  const rows = rowsAcross(turned, rowSpacingM);
  if (rows.length < 2) return [];
  const circuits: [string, Circuit | null][] = [
    ['end-fed', endFed(turned, rows, input.staggered)],
    ['centre-fed', centreFed(turned, rows, input.staggered)],
  ];
  const laidM = rows.length > 1 ? rows[1]!.y - rows[0]!.y : rowSpacingM;
  return circuits.flatMap(([key, circuit]) =>
    circuit
      ? [
          {
            layout: 'laterals',
            rowSpacingM: laidM,
            directionRad,
            key,
            circuits: [turnedBack(circuit, directionRad)],
          },
        ]
      : [],
  );
}

function turnedBack(circuit: Circuit, directionRad: number): Circuit {
  return {
    ...circuit,
    runs: circuit.runs.map((run) => ({ ...run, path: rotatePoints(run.path, directionRad) })),
    joins: circuit.joins.map((join) => ({ ...join, at: rotatePoints([join.at], directionRad)[0]! })),
  };
}

/** Rows not wider apart than the spacing, on the ground's own flat ends where it has them, each in one or more pieces. */
function rowsAcross(ground: Polygon, rowSpacingM: number): Row[] {
  const ys = ground.outer.map((p) => p.y);
  const low = Math.min(...ys);
  const high = Math.max(...ys);
  const hairM = 1e-3;
  const isFlat = (y: number): boolean => {
    const pieces = sectionsAt([ground.outer, ...ground.holes], y);
    return pieces.some(([a, b]) => b - a > rowSpacingM);
  };
  const first = isFlat(low + hairM) ? low + hairM : low + 0.4 * rowSpacingM;
  const last = isFlat(high - hairM) ? high - hairM : high - 0.4 * rowSpacingM;
  if (last - first < 0.6 * rowSpacingM) return [];
  const gaps = Math.max(1, Math.ceil((last - first) / rowSpacingM - 1e-6));
  const rows: Row[] = [];
  for (let k = 0; k <= gaps; k += 1) {
    const y = first + ((last - first) * k) / gaps;
    const pieces = sectionsAt([ground.outer, ...ground.holes], y).filter(
      ([a, b]) => b - a > SHORTEST_ROW_RATIO * rowSpacingM,
    );
    if (pieces.length > 0) rows.push({ y, pieces });
  }
  return rows;
}

function endFed(ground: Polygon, rows: readonly Row[], isStaggered: boolean): Circuit | null {
  if (rows.some((row) => row.pieces.length > 2)) return null;
  const left = rows.map((row) => ({ x: row.pieces[0]![0], y: row.y }));
  const right = rows.map((row) => ({ x: row.pieces.at(-1)![1], y: row.y }));
  const supply = alongEdge(ground, left, right);
  const flush = alongEdge(ground, right, left);
  if (!supply || !flush) return null;
  const runs: SketchRun[] = [
    header('supply', 'supply-header', supply),
    header('flush', 'flush-header', flush),
  ];
  const joins: SketchJoin[] = [...elbowsOf('supply', supply), ...elbowsOf('flush', flush)];
  rows.forEach((row, k) => {
    const stagger = isStaggered && k % 2 === 1;
    const isEnd = k === 0 || k === rows.length - 1;
    const [first, second] = row.pieces;
    const start = left[k]!;
    const end = right[k]!;
    if (!second) {
      runs.push(lateral(`row-${k + 1}`, start, end, stagger));
      joins.push(teeOn('supply', `row-${k + 1}`, start, isEnd), teeOn('flush', `row-${k + 1}`, end, isEnd));
      return;
    }
    const stop = { x: first![1], y: row.y };
    const go = { x: second[0], y: row.y };
    runs.push(lateral(`row-${k + 1}a`, start, stop, stagger), lateral(`row-${k + 1}b`, end, go, stagger));
    joins.push(teeOn('supply', `row-${k + 1}a`, start, isEnd), teeOn('flush', `row-${k + 1}b`, end, isEnd));
    joins.push(
      { at: stop, runKeys: [`row-${k + 1}a`], fitting: 'end-cap' },
      { at: go, runKeys: [`row-${k + 1}b`], fitting: 'end-cap' },
    );
  });
  joins.push({ at: flush.at(-1)!, runKeys: ['flush'], fitting: 'flush-valve' });
  return { runs, joins, flushKey: 'flush', canTurn: true };
}

function centreFed(ground: Polygon, rows: readonly Row[], isStaggered: boolean): Circuit | null {
  if (rows.some((row) => row.pieces.length > 1)) return null;
  const from = Math.max(...rows.map((row) => row.pieces[0]![0]));
  const to = Math.min(...rows.map((row) => row.pieces[0]![1]));
  const spacing = rows[1]!.y - rows[0]!.y;
  if (to - from < 4 * spacing) return null;
  const x = (from + to) / 2;
  const left = rows.map((row) => ({ x: row.pieces[0]![0], y: row.y }));
  const right = rows.map((row) => ({ x: row.pieces[0]![1], y: row.y }));
  const flushLeft = alongEdge(ground, left, right);
  const flushRight = alongEdge(ground, right, left);
  if (!flushLeft || !flushRight) return null;
  const supply = [
    { x, y: rows[0]!.y },
    { x, y: rows.at(-1)!.y },
  ];
  const runs: SketchRun[] = [
    header('supply', 'supply-header', supply),
    header('flush-left', 'flush-header', flushLeft),
    header('flush-right', 'flush-header', flushRight),
  ];
  const joins: SketchJoin[] = [...elbowsOf('flush-left', flushLeft), ...elbowsOf('flush-right', flushRight)];
  rows.forEach((row, k) => {
    const at = { x, y: row.y };
    const stagger = isStaggered && k % 2 === 1;
    const isEnd = k === 0 || k === rows.length - 1;
    runs.push(
      lateral(`row-${k + 1}a`, at, left[k]!, stagger),
      lateral(`row-${k + 1}b`, at, right[k]!, stagger),
    );
    joins.push({ at, runKeys: ['supply', `row-${k + 1}a`, `row-${k + 1}b`], fitting: 'tee' });
    joins.push(
      teeOn('flush-left', `row-${k + 1}a`, left[k]!, isEnd),
      teeOn('flush-right', `row-${k + 1}b`, right[k]!, isEnd),
    );
  });
  joins.push(
    { at: flushLeft.at(-1)!, runKeys: ['flush-left'], fitting: 'flush-valve' },
    { at: flushRight.at(-1)!, runKeys: ['flush-right'], fitting: 'flush-valve' },
  );
  return { runs, joins, flushKey: 'flush-left', canTurn: true };
}

const header = (key: string, use: 'supply-header' | 'flush-header', path: Polyline): SketchRun => ({
  key,
  role: 'connector',
  use,
  closed: false,
  path,
});

const lateral = (key: string, from: PlanPoint, to: PlanPoint, isStaggered: boolean): SketchRun => ({
  key,
  role: 'lateral',
  closed: false,
  path: [from, to],
  isStaggered,
});

const teeOn = (headerKey: string, rowKey: string, at: PlanPoint, isEnd: boolean): SketchJoin => ({
  at,
  runKeys: [headerKey, rowKey],
  fitting: isEnd ? 'elbow' : 'tee',
});

/** The way along the ground's edge past all of `through` in order, not past `avoid`; null where there is none. */
function alongEdge(
  ground: Polygon,
  through: readonly PlanPoint[],
  avoid: readonly PlanPoint[],
): Polyline | null {
  const closed = closeRing(ground.outer);
  const lengthM = polylineLengthM(closed);
  const at = through.map((point) => nearestOnPath(point, closed).alongM);
  const shun = avoid.map((point) => nearestOnPath(point, closed).alongM);
  const twice = [...closed, ...closed.slice(1)];
  const backwards = (path: PlanPoint[]): PlanPoint[] => path.reverse();
  const first = at[0]!;
  const last = at.at(-1)!;
  const isBetween = (value: number, from: number, to: number): boolean =>
    (value - from + lengthM) % lengthM < ((to - from + lengthM) % lengthM) - 1e-6;
  const isClear = (from: number, to: number): boolean =>
    !shun.some((value) => isBetween(value, from + 1e-6, to)) &&
    at.slice(1, -1).every((value) => isBetween(value, from, to));
  const path = isClear(first, last)
    ? slicePath(twice, first, first + ((last - first + lengthM) % lengthM))
    : isClear(last, first)
      ? backwards(slicePath(twice, last, last + ((first - last + lengthM) % lengthM)))
      : null;
  if (!path || path.length < 2) return null;
  return simplifyPath(path, 2e-4);
}

/** An elbow wherever a header turns more than pipe bends. */
export function elbowsOf(key: string, path: Polyline): SketchJoin[] {
  const joins: SketchJoin[] = [];
  for (let i = 1; i + 1 < path.length; i += 1) {
    const before = headingRad(path[i - 1]!, path[i]!);
    const after = headingRad(path[i]!, path[i + 1]!);
    const turned = Math.abs(headingOf(sinOf(after - before), cosOf(after - before)));
    if (turned > ELBOW_RAD && distanceM(path[i - 1]!, path[i]!) > 0.02)
      joins.push({ at: path[i]!, runKeys: [key], fitting: 'elbow' });
  }
  return joins;
}
