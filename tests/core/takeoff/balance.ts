import type { Design } from '../../../src/core/design';
import type { Run } from '../../../src/core/layout';

const FOOT_M = 0.3048;
/** Waste of tubing counted on where a plan says nothing: common practice, no source. */
const USUAL_WASTE_RATIO = 0.05;
/** A join stands for the end of a run this near to it: the grid of the drawing. */
const AT_JOIN_M = 0.005;

const sum = (figures: readonly number[]): number => figures.reduce((total, figure) => total + figure, 0);

/** Cuts of each run: end to end along it, and as long as the run with its waste. */
function unevenCuts(design: Design, runs: readonly Run[]): readonly string[] {
  const { cuts, rolls } = design.takeoff;
  const waste = 1 + (design.plan.settings.tubingWasteRatio ?? USUAL_WASTE_RATIO);
  const faults = runs.flatMap((run) => {
    const own = cuts.filter((cut) => cut.runId === run.id).sort((a, b) => a.fromM - b.fromM);
    const ends = [0, ...own.map((cut) => cut.toM)];
    const isWhole =
      own.every((cut, i) => Math.abs(cut.fromM - ends[i]!) < 1e-6) &&
      Math.abs(ends[own.length]! - run.lengthM) < 1e-6;
    return isWhole ? [] : [`${run.id} is not cut from end to end`];
  });
  const [cutM, routesM] = [sum(cuts.map((cut) => cut.lengthM)), sum(runs.map((run) => run.lengthM))];
  const missM = Math.abs(cutM - routesM * waste);
  const rollsM = sum(rolls.map((roll) => roll.lengthM - roll.leftM));
  return [
    ...faults,
    ...(missM < 0.1 * FOOT_M ? [] : [`cuts of ${cutM} m for routes of ${routesM} m miss by ${missM} m`]),
    ...(Math.abs(rollsM - cutM) < 1e-6 ? [] : [`rolls give ${rollsM} m to cuts of ${cutM} m`]),
    ...rolls.filter((roll) => roll.leftM < -1e-6).map((roll) => `roll ${roll.number} is too short`),
  ];
}

/** Ends of open tubing where nothing is counted that could hold or close them. */
function looseEnds(design: Design): readonly string[] {
  // A lead begins where its header comes up: the riser is counted with the tee at its other end.
  const headers = design.supply.zones
    .flatMap((zone) => zone.pipes)
    .flatMap(({ path }) => [path[0]!, path.at(-1)!]);
  return design.beds.flatMap(({ layout }) =>
    layout.runs
      .filter((run) => !run.closed)
      .flatMap((run) => [run.path[0]!, run.path.at(-1)!].map((at) => ({ run, at })))
      .filter(({ at }) => {
        const places = [...layout.joins, layout.stubUp, ...headers];
        return !places.some((place) => Math.hypot(place.x - at.x, place.y - at.y) <= AT_JOIN_M);
      })
      .map(({ run, at }) => `${run.id} ends loose at ${at.x}, ${at.y}`),
  );
}

/** Places where a header comes up to tubing: where a lead begins that no other tubing feeds, and where a run is fed without one. */
function fedFromBelow(design: Design): number {
  return sum(
    design.beds.map(({ layout }) => {
      const leads = layout.runs.filter((run) => run.role === 'lead');
      const taps = layout.joins.filter((join) => join.fitting === 'tee');
      const isTapped = (at: { x: number; y: number }): boolean =>
        taps.some((tee) => Math.hypot(tee.x - at.x, tee.y - at.y) <= AT_JOIN_M);
      const alone = layout.joins.filter(
        (join) => ['stub-up-tee', 'coupling'].includes(join.fitting) && join.runIds.length === 1,
      );
      return leads.filter((lead) => !isTapped(lead.path[0]!)).length + alone.length;
    }),
  );
}

/** Fittings as the drawing shows them against the takeoff's lines. */
function miscounted(design: Design): readonly string[] {
  const joins = design.beds.flatMap((bed) => bed.layout.joins);
  const devices = new Map(
    [...design.supply.devices, ...design.supply.zones.flatMap((zone) => zone.devices)].map((d) => [d.id, d]),
  );
  const joined = (fitting: string): number => joins.filter((join) => join.fitting === fitting).length;
  const drawn = (kind: string): number => [...devices.values()].filter((d) => d.kind === kind).length;
  const splices = design.takeoff.cuts.filter((cut) => cut.spliceAtEnd).length;
  const wanted: readonly (readonly [string, number])[] = [
    ['stub-up-tee', joined('stub-up-tee')],
    ['stub-up-riser', fedFromBelow(design)],
    ['tubing-tee', joined('tee')],
    ['tubing-elbow', joined('elbow')],
    ['tubing-end-cap', joined('end-cap')],
    ['tubing-coupling', joined('coupling')],
    ['tubing-splice', splices + joined('splice')],
    ['flush-valve', Math.max(joined('flush-valve'), drawn('flush-valve'))],
    ['flush-box', Math.max(joined('flush-valve'), drawn('flush-valve'))],
    ['air-relief', drawn('air-relief')],
    ['drain-point', drawn('drain-point')],
    ['check-valve', drawn('check-valve')],
    ['gauge-point', design.supply.zones.length],
  ];
  return wanted.flatMap(([part, count]) => {
    const lines = design.takeoff.lines.filter((line) => line.part === part);
    const counted = sum(lines.map((line) => line.quantity));
    return counted === count ? [] : [`${part}: ${counted} in the takeoff, ${count} on the drawing`];
  });
}

/** Everything of a design's takeoff that does not balance with its drawing; nothing on a takeoff that does. */
export function unbalanced(design: Design): readonly string[] {
  const runs = design.beds.flatMap((bed) => bed.layout.runs);
  return [...unevenCuts(design, runs), ...looseEnds(design), ...miscounted(design)];
}
