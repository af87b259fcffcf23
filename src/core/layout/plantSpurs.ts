import { distanceM, nearestOnPath, type PlanPoint } from '../geometry';
import { type Judged, type JudgingGround, judge } from './judging';
import type { Circuit, Sketch, SketchJoin, SketchRun } from './sketch';
import type { LayoutInput } from './types';

/** A spur ends this far inside the root ball, as a share of its radius: its emitter wets the ball, not the trunk (ours). */
const INTO_BALL_RATIO = 0.5;
/** Shorter than this a tee and an end cap have no tubing between them (two barbs and an emitter). */
const SHORTEST_SPUR_M = 0.1;

/** A layout with the spurs it could take, and the plants that got none. */
export interface WithPlantSpurs {
  readonly judged: Judged;
  readonly without: readonly string[];
}

/**
 * Adds a short piece of tubing on a tee from the nearest row to each plant that was given a spur, cut so that its last
 * emitter lies at the root ball. One that would spoil the route by the verifier's rules is left out and named.
 */
export function withPlantSpurs(judged: Judged, input: LayoutInput, ground: JudgingGround): WithPlantSpurs {
  let best = judged;
  const without: string[] = [];
  for (const plant of input.spurPlants) {
    const sketches = spurTo(best.sketches, plant);
    const next = sketches && judge(best.alternative.key, sketches, input, ground);
    if (next?.alternative.valid) best = next;
    else without.push(plant.id);
  }
  return { judged: best, without };
}

function spurTo(
  sketches: readonly Sketch[],
  plant: LayoutInput['spurPlants'][number],
): readonly Sketch[] | null {
  const tie = nearestRow(sketches, plant.at);
  if (!tie) return null;
  const awayM = distanceM(tie.at, plant.at);
  const lengthM = awayM - INTO_BALL_RATIO * plant.rootBallRadiusM;
  if (lengthM < SHORTEST_SPUR_M) return null;
  const share = lengthM / awayM;
  const end = {
    x: tie.at.x + (plant.at.x - tie.at.x) * share,
    y: tie.at.y + (plant.at.y - tie.at.y) * share,
  };
  const key = `plant-${plant.id}`;
  const spur: SketchRun = {
    key,
    role: 'single-row',
    use: 'spur',
    closed: false,
    path: [tie.at, end],
    endsAtEmitter: true,
  };
  const joins: SketchJoin[] = [
    { at: tie.at, runKeys: [tie.runKey, key], fitting: 'tee' },
    { at: end, runKeys: [key], fitting: 'end-cap' },
  ];
  return sketches.map((sketch, index) =>
    index === tie.sketch
      ? {
          ...sketch,
          circuits: sketch.circuits.map(
            (circuit, at): Circuit =>
              at === tie.circuit
                ? { ...circuit, runs: [...circuit.runs, spur], joins: [...circuit.joins, ...joins] }
                : circuit,
          ),
        }
      : sketch,
  );
}

interface Tie {
  readonly at: PlanPoint;
  readonly sketch: number;
  readonly circuit: number;
  readonly runKey: string;
}

function nearestRow(sketches: readonly Sketch[], from: PlanPoint): Tie | null {
  let best: Tie | null = null;
  let leastM = Number.POSITIVE_INFINITY;
  sketches.forEach(({ circuits }, sketch) => {
    circuits.forEach(({ runs }, circuit) => {
      for (const run of runs) {
        if (run.role === 'connector' || run.use === 'spur') continue;
        const near = nearestOnPath(from, run.path);
        if (near.distanceM >= leastM) continue;
        leastM = near.distanceM;
        best = { at: near.at, sketch, circuit, runKey: run.key };
      }
    });
  });
  return best;
}
