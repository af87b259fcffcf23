import {
  distanceM,
  headingOf,
  nearestOnPath,
  type Polyline,
  pointBetween,
  pointInRing,
  turnRad,
} from '../geometry';
import { bendCorners } from './corners';
import { type Judged, judge } from './judging';
import { elbowsOf } from './laterals';
import { MEETS_M, meetingsOf } from './lockedMeetings';
import type { BedPart } from './parts';
import type { Circuit, SketchRun } from './sketch';
import type { LayoutInput, LockedRun } from './types';

/** A corner drawn by hand is bent this much wider than the tubing's own radius, so that chords stay on the safe side. */
const BENT_RATIO = 1.02;
/** A turn of more than this at one point is a corner drawn by hand; a bend drawn by the program turns less at each chord. */
const CORNER_RAD = Math.PI / 6;

/**
 * A route drawn, changed point by point or locked by hand, kept as it is and measured like any other. Corners sharper than
 * the tubing bears are bent to its radius where there is room; an end that lies within a hair of another run is put on it
 * with the fitting the meeting needs; an end that meets nothing is capped, or flushed where the water ends. Pieces that
 * meet nowhere are fed each by a lead of its own. Of a bed in several parts each takes the runs that begin in it. Null where the plan holds no usable path.
 */
export function lockedLayout(part: BedPart, partCount: number, input: LayoutInput): Judged | null {
  const locked = (input.locked ?? []).filter(
    (run) => run.path.length > 1 && (partCount === 1 || pointInRing(run.path[0]!, part.outline.outer)),
  );
  const leads = locked.filter((run) => run.role === 'lead');
  const drawn = locked
    .filter((run) => run.role !== 'lead')
    .map(
      (run, index): SketchRun => ({
        key: `run-${index + 1}`,
        role: run.role,
        ...(run.use ? { use: run.use } : {}),
        closed: run.closed,
        path: layable(run, input.bendRadiusM),
      }),
    );
  if (drawn.length === 0) return null;
  const circuits = meetingsOf(drawn).map(({ runs, joins, looseEnds }): Circuit => {
    const fedFirst = [...runs].sort((one, other) => rank(one) - rank(other));
    const main = fedFirst[0]!;
    const flushed = main.closed ? main : (runs.find((run) => run.use === 'flush-header') ?? main);
    const headers = runs.filter((run) => run.use === 'supply-header' || run.use === 'flush-header');
    const valves = runs.filter((run) => run.use === 'flush-header');
    return {
      runs: fedFirst,
      joins: [
        ...joins,
        ...headers.flatMap((run) => elbowsOf(run.key, run.path)),
        ...looseEnds
          .filter(({ run, isStart }) => !(run === main && isStart) && run.use !== 'flush-header')
          .map(({ run, at }) => ({
            at,
            runKeys: [run.key],
            fitting: run === flushed ? ('flush-valve' as const) : ('end-cap' as const),
          })),
        ...valves.map((run) => ({
          at: run.path.at(-1)!,
          runKeys: [run.key],
          fitting: 'flush-valve' as const,
        })),
      ],
      flushKey: flushed.key,
      canTurn: false,
      ...keptLead(main, leads),
    };
  });
  const sketch = {
    layout: input.layout ?? layoutOf(drawn),
    rowSpacingM: input.rowSpacingM,
    directionRad: input.rowDirectionRad ?? longestRad(drawn),
    key: 'locked',
    circuits,
  };
  return judge('locked', [sketch], input, { idPrefix: part.id, usable: part.usable, trees: [] });
}

/** The drawn lead that ends on a run. */
function keptLead(main: SketchRun, leads: readonly LockedRun[]): Pick<Circuit, 'lead'> {
  const own = leads.find((lead) => nearestOnPath(lead.path.at(-1)!, main.path).distanceM < MEETS_M);
  return own ? { lead: { from: own.path[0]!, to: own.path.at(-1)! } } : {};
}

const RANK = {
  loop: 0,
  'single-row': 1,
  connector: 3,
  lateral: 4,
  'centre-row': 5,
  ring: 6,
  lead: 7,
} as const;
const rank = (run: SketchRun): number =>
  run.use === 'supply-header' ? 2 : run.use === 'spur' ? 5 : RANK[run.role];

function layoutOf(runs: readonly SketchRun[]): 'loop' | 'loop-centre-row' | 'strip' | 'laterals' {
  if (runs.some((run) => run.role === 'lateral')) return 'laterals';
  if (runs.some((run) => run.role === 'centre-row')) return 'loop-centre-row';
  return runs.some((run) => run.role === 'loop') ? 'loop' : 'strip';
}

/** Direction of the longest straight piece: the rows' own. */
function longestRad(runs: readonly SketchRun[]): number {
  let best = { lengthM: 0, angleRad: 0 };
  for (const { path } of runs)
    path.slice(1).forEach((b, i) => {
      const a = path[i]!;
      const lengthM = distanceM(a, b);
      if (lengthM > best.lengthM + 1e-6) best = { lengthM, angleRad: headingOf(b.y - a.y, b.x - a.x) };
    });
  return ((best.angleRad % Math.PI) + Math.PI) % Math.PI;
}

/** The path closed where it is a loop, and its corners bent where any is sharper than the tubing bears. */
function layable(run: LockedRun, bendRadiusM: number): Polyline {
  const first = run.path[0]!;
  const last = run.path.at(-1)!;
  const path = run.closed && distanceM(first, last) > 0 ? [...run.path, first] : run.path;
  if (run.role === 'connector') return path;
  const round = run.closed ? [...path, path[1]!] : path;
  const hasCorner = round.some(
    (p, i) =>
      i > 0 && i + 1 < round.length && Math.abs(turnRad(round[i - 1]!, p, round[i + 1]!)) > CORNER_RAD,
  );
  if (!hasCorner) return path;
  return run.closed ? bentLoop(path, BENT_RATIO * bendRadiusM) : bendCorners(path, BENT_RATIO * bendRadiusM);
}

/** A closed path begun in the middle of its longest piece, so that its seam is no corner, with its corners bent. */
function bentLoop(path: Polyline, radiusM: number): Polyline {
  const lengths = path.slice(1).map((b, i) => distanceM(path[i]!, b));
  const at = lengths.indexOf(Math.max(...lengths));
  const middle = pointBetween(path[at]!, path[at + 1]!, 0.5);
  return bendCorners([middle, ...path.slice(at + 1), ...path.slice(1, at + 1), middle], radiusM);
}
