import { distanceM, nearestOnPath, type PlanPoint, pointAlong } from '../../geometry';
import type { BedLayout, Join, Run } from '../../layout';
import type { Cut } from '../types';
import { type ArcPiece, arcPieces, nearestTurnRad, pieceHeadings } from './arcPieces';
import { tieByPairs } from './spotPairs';
import type { FixedSpot, LayScript, LayStep, RunScript } from './types';

/** From this much in one sweep a bend is called a turn: the crew looks the other way afterwards. */
const TURN_RAD = Math.PI / 4;
/** Wider than this times the row spacing it is a curve to follow, not a turn to make. */
const TURN_RADIUS_RATIO = 1;
/** A join lies on a run if it is within the grid of the drawing of it. */
const ON_RUN_M = 0.005;
/** Things nearer than this along a run happen at one place. */
const SAME_PLACE_M = 1e-3;

type Bare<T> = T extends unknown ? Omit<T, 'tie'> : never;
type BareStep = Bare<LayStep>;

/** What one bed's order of laying is made from. */
export interface LayScriptInput<S extends FixedSpot> {
  readonly layout: BedLayout;
  /** The cut list; cuts of other beds are passed over. */
  readonly cuts: readonly Cut[];
  readonly spots: readonly S[];
}

/** Something that happens at one place of a run. */
interface Event {
  readonly alongM: number;
  readonly step: (place: Omit<BareStep, 'kind'>) => BareStep;
}

function placeAlong(run: Run, alongM: number, at: PlanPoint) {
  let emitter = 0;
  while (emitter < run.emittersM.length && run.emittersM[emitter]! <= alongM + 1e-6) emitter++;
  const lastM = emitter === 0 ? 0 : run.emittersM[emitter - 1]!;
  const next = run.emittersM[emitter];
  return {
    alongM,
    emitter,
    pastM: Math.max(0, alongM - lastM),
    beforeNextM: next === undefined ? null : next - alongM,
    at,
  };
}

/** Splices, tees and the flush valve along a run, in the order they are met; the fitting it begins at is no event. */
function eventsOf(run: Run, joins: readonly Join[], cuts: readonly Cut[]): readonly Event[] {
  const pieces = cuts.filter((cut) => cut.runId === run.id).sort((a, b) => a.fromM - b.fromM);
  const splices = pieces.slice(1).map((cut, i): Event => {
    const [fromRoll, toRoll] = [pieces[i]!.rollNumber, cut.rollNumber];
    return { alongM: cut.fromM, step: (place) => ({ ...place, kind: 'splice', fromRoll, toRoll }) };
  });
  const met = joins
    .filter((join) => join.runIds.includes(run.id))
    .map((join) => ({ join, near: nearestOnPath(join, run.path) }))
    .filter(
      ({ near }) =>
        near.distanceM <= ON_RUN_M && near.alongM > SAME_PLACE_M && near.alongM < run.lengthM - SAME_PLACE_M,
    )
    .map(({ join, near }): Event => {
      const { fitting } = join;
      const runIds = join.runIds.filter((id) => id !== run.id);
      return { alongM: near.alongM, step: (place) => ({ ...place, kind: 'join', fitting, runIds }) };
    });
  return [...splices, ...met].sort((a, b) => a.alongM - b.alongM);
}

/** A line or arc of the route as a move, its heading change told from where the one before it left off. */
function moveOf(run: Run, piece: ArcPiece, headingRad: number, rowSpacingM: number): BareStep {
  const chordM = distanceM(piece.from, piece.to);
  const half = Math.abs(piece.sweepRad) / 2;
  const radiusM = half > 0 ? chordM / (2 * Math.sin(half)) : Number.POSITIVE_INFINITY;
  const isTurn = 2 * half >= TURN_RAD && radiusM <= TURN_RADIUS_RATIO * rowSpacingM;
  return {
    ...placeAlong(run, piece.toM, piece.to),
    kind: half === 0 ? 'straight' : isTurn ? 'turn' : 'curve',
    fromM: piece.fromM,
    bearRad: nearestTurnRad(pieceHeadings(piece).startRad - headingRad),
    sweepRad: piece.sweepRad,
    chordM,
    bowM: (chordM / 2) * Math.tan(half / 2),
  };
}

interface BareRun extends Omit<RunScript, 'steps'> {
  readonly steps: readonly BareStep[];
}

function scriptOfRun(run: Run, layout: BedLayout, cuts: readonly Cut[]): BareRun {
  const events = eventsOf(run, layout.joins, cuts);
  const pieces = arcPieces(
    run.path,
    events.map((event) => event.alongM),
  );
  const begin = run.path[0]!;
  const headingRad = pieces[0] ? pieceHeadings(pieces[0]).startRad : 0;
  const first = cuts.find((cut) => cut.runId === run.id && cut.fromM === 0);
  const steps: BareStep[] = [
    { ...placeAlong(run, 0, begin), kind: 'begin', rollNumber: first?.rollNumber ?? null },
  ];
  let walkedRad = headingRad;
  let next = 0;
  for (const piece of pieces) {
    steps.push(moveOf(run, piece, walkedRad, layout.rowSpacingM));
    walkedRad = pieceHeadings(piece).endRad;
    while (events[next] && events[next]!.alongM <= piece.toM + 1e-9) {
      const event = events[next++]!;
      steps.push(event.step(placeAlong(run, event.alongM, pointAlong(run.path, event.alongM).at)));
    }
  }
  const end = run.path[run.path.length - 1]!;
  steps.push({ ...placeAlong(run, run.lengthM, end), kind: 'end', closes: run.closed });
  return {
    runId: run.id,
    role: run.role,
    emitters: run.emittersM.length,
    lengthM: run.lengthM,
    begin,
    headingRad,
    steps,
  };
}

/**
 * The order of laying one bed, walked by counting emitters: straights, turns and curves that together keep within 8 mm of the
 * route, with splices, tees and the flush valve where they fall, every place tied by two tapes to the pair of fixed points whose
 * tapes cross best. A refused bed has no runs.
 */
export function layScript<S extends FixedSpot>({ layout, cuts, spots }: LayScriptInput<S>): LayScript<S> {
  const routed = layout.status === 'routed' ? layout.runs.filter((run) => run.path.length > 1) : [];
  const bare = routed.map((run) => scriptOfRun(run, layout, cuts));
  const { pairs, ties } = tieByPairs(
    spots,
    bare.flatMap((run) => run.steps.map((step) => step.at)),
  );
  let next = 0;
  const runs = bare.map(
    (run): RunScript => ({
      ...run,
      steps: run.steps.map((step): LayStep => ({ ...step, tie: ties[next++] ?? null })),
    }),
  );
  return { bedId: layout.bedId, pairs, runs };
}
