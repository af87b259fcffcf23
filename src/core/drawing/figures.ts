import type { Design, DesignedBed } from '../design';
import type { PlanPoint } from '../geometry';
import { markedRunsOf, type Run } from '../layout';
import type { Zone } from '../supply';

/** What a crew is told of one piece of emitter tubing. Pressure and flow are null where the zone was not solved. */
export interface RunFigures {
  readonly run: Run;
  readonly mark: string;
  readonly bed: DesignedBed;
  readonly flowM3s: number | null;
  readonly lowestHeadM: number | null;
}

/** Runs with emitters, marked by bed and number in the order laid: A1, A2 ... Headers and leads carry no mark. */
export function markedRuns(bed: DesignedBed): readonly { readonly run: Run; readonly mark: string }[] {
  return markedRunsOf(bed.layout, bed.mark);
}

/** More runs of a bed than this are so many that leaders to them would fan over each other, and a turn's number no longer tells whose it is. */
const MANY_RUNS = 8;

/** True where a bed holds many runs: each then carries its mark close by, and what else is said of it stands in the tables. */
export const hasManyRuns = (bed: DesignedBed): boolean => markedRuns(bed).length > MANY_RUNS;

interface Solved {
  flowM3s: number;
  lowestHeadM: number;
}

/** Flow and lowest pressure of every run, summed from the emitters as solved. */
function solvedRuns(zone: Zone): ReadonlyMap<string, Solved> {
  const found = new Map<string, Solved>();
  const { run, runIds, headM, flowM3s } = zone.emitters;
  for (let i = 0; i < run.length; i++) {
    const id = runIds[run[i]!]!;
    const known = found.get(id) ?? { flowM3s: 0, lowestHeadM: Number.POSITIVE_INFINITY };
    known.flowM3s += flowM3s[i]!;
    known.lowestHeadM = Math.min(known.lowestHeadM, headM[i]!);
    found.set(id, known);
  }
  return found;
}

/** Every marked run of a design, bed by bed. */
export function runFigures(design: Design): readonly RunFigures[] {
  const solved = new Map(design.supply.zones.flatMap((zone) => [...solvedRuns(zone)]));
  return design.beds.flatMap((bed) =>
    markedRuns(bed).map(({ run, mark }) => {
      const figures = solved.get(run.id);
      return {
        run,
        mark,
        bed,
        flowM3s: figures?.flowM3s ?? null,
        lowestHeadM: figures?.lowestHeadM ?? null,
      };
    }),
  );
}

/** Pressure head at a named node of a zone's network; null where it is unknown or unsolved. */
export function pressureAtNodeM(zone: Zone, nodeId: string): number | null {
  const index = zone.network.nodes.findIndex((node) => node.id === nodeId);
  const node = zone.network.nodes[index];
  const headM = zone.solution.headM[index];
  if (!node || headM === undefined || zone.solution.status !== 'settled') return null;
  return headM - node.elevationM;
}

/** Pressure at the emitter nearest to a place along a run: what a gauge on the flush valve reads while the zone runs. */
export function pressureAlongM(zone: Zone, runId: string, alongM: number): number | null {
  const { run, runIds, distanceM, headM } = zone.emitters;
  let best: { awayM: number; headM: number } | null = null;
  for (let i = 0; i < run.length; i++) {
    if (runIds[run[i]!] !== runId) continue;
    const awayM = Math.abs(distanceM[i]! - alongM);
    if (!best || awayM < best.awayM) best = { awayM, headM: headM[i]! };
  }
  return best?.headM ?? null;
}

/** Beds of a zone, by mark. */
export const bedsOfZone = (design: Design, zone: Zone): readonly DesignedBed[] =>
  design.beds.filter((bed) => zone.bedIds.includes(bed.id));

/** Corners of a bed's outer outline that a tape can be held to, clockwise from the one nearest the stub-up; the four furthest points of a bed without corners. */
export function bedCorners(bed: DesignedBed): readonly PlanPoint[] {
  const ring = bed.layout.outline[0]?.outer ?? [];
  const corners = ring.filter((p, i) => {
    const before = ring[(i + ring.length - 1) % ring.length]!;
    const after = ring[(i + 1) % ring.length]!;
    const turn = Math.atan2(after.y - p.y, after.x - p.x) - Math.atan2(p.y - before.y, p.x - before.x);
    return Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn))) > 0.44;
  });
  const used = corners.length >= 3 && corners.length <= 12 ? corners : extremes(ring);
  const clockwise = [...used].reverse();
  const { stubUp } = bed.layout;
  let first = 0;
  clockwise.forEach((p, i) => {
    const nearest = clockwise[first]!;
    if (Math.hypot(p.x - stubUp.x, p.y - stubUp.y) < Math.hypot(nearest.x - stubUp.x, nearest.y - stubUp.y))
      first = i;
  });
  return [...clockwise.slice(first), ...clockwise.slice(0, first)];
}

function extremes(ring: readonly PlanPoint[]): readonly PlanPoint[] {
  const furthest = (measure: (p: PlanPoint) => number): number =>
    ring.reduce((best, p, i) => (measure(p) > measure(ring[best]!) ? i : best), 0);
  const indices = new Set([
    furthest((p) => p.x),
    furthest((p) => p.y),
    furthest((p) => -p.x),
    furthest((p) => -p.y),
  ]);
  return ring.filter((_, i) => indices.has(i));
}
