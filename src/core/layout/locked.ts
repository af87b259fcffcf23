import { distanceM, nearestOnPath, type PlanPoint } from '../geometry';
import { type Judged, judge } from './judging';
import type { BedPart } from './parts';
import type { SketchJoin, SketchRun } from './sketch';
import type { LayoutInput, LockedRun } from './types';

/** An end drawn this near another run is meant to meet it. */
const MEETS_M = 0.02;

/**
 * A route drawn or locked by hand, kept point for point and measured like any other. Ends that lie on another run become
 * tees. Null where the plan holds no usable path.
 */
export function lockedLayout(part: BedPart, input: LayoutInput): Judged | null {
  const locked = (input.locked ?? []).filter((run) => run.path.length > 1 && run.role !== 'lead');
  const fedFirst = [...locked].sort((one, other) => rank(one) - rank(other));
  if (fedFirst.length === 0) return null;
  const runs = fedFirst.map(
    (run, index): SketchRun => ({
      key: `run-${index + 1}`,
      role: run.role,
      closed: run.closed,
      path: closed(run),
    }),
  );
  const main = runs[0]!;
  return judge(
    'locked',
    [
      {
        layout: input.layout ?? layoutOf(runs),
        rowSpacingM: input.rowSpacingM,
        directionRad: input.rowDirectionRad ?? 0,
        key: 'locked',
        circuits: [{ runs, joins: teesOf(runs), flushKey: main.key, canTurn: false }],
      },
    ],
    input,
    { idPrefix: part.id, usable: part.usable, trees: [] },
  );
}

const RANK = {
  loop: 0,
  'single-row': 1,
  connector: 2,
  lateral: 3,
  'centre-row': 4,
  ring: 5,
  lead: 6,
} as const;
const rank = (run: LockedRun): number => RANK[run.role];

function layoutOf(runs: readonly SketchRun[]): 'loop' | 'loop-centre-row' | 'strip' | 'laterals' {
  if (runs.some((run) => run.role === 'lateral')) return 'laterals';
  if (runs.some((run) => run.role === 'centre-row')) return 'loop-centre-row';
  return runs.some((run) => run.role === 'single-row') ? 'strip' : 'loop';
}

function closed(run: LockedRun): readonly PlanPoint[] {
  const first = run.path[0]!;
  const last = run.path.at(-1)!;
  return run.closed && distanceM(first, last) > 0 ? [...run.path, first] : run.path;
}

function teesOf(runs: readonly SketchRun[]): SketchJoin[] {
  return runs.flatMap((run) => {
    if (run.closed) return [];
    return [run.path[0]!, run.path.at(-1)!].flatMap((end) => {
      const met = runs.find((other) => other !== run && nearestOnPath(end, other.path).distanceM < MEETS_M);
      return met ? [{ at: end, runKeys: [met.key, run.key], fitting: 'tee' as const }] : [];
    });
  });
}
