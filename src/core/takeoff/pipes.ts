import type { Pipe } from '../catalog';
import { distanceM, headingRad, type PlanPoint, type Polyline, turnRad } from '../geometry';
import type { Device, HeaderPipe, Sleeve, SupplyDesign } from '../supply';
import type { PartsList } from './parts';

/** Pipe ends this close are one fitting. */
const SAME_PLACE_M = 0.01;
/** A drain's tee: in, out and down. */
const WELDS_OF_A_DRAIN = 3;
/** A bend under this is taken up by the pipe itself. Ours, stated. */
const LEAST_ELBOW_RAD = Math.PI / 12;
/** Bends over this take a 90 degree elbow, those under it a 45 degree one. Ours, stated. */
const RIGHT_ELBOW_RAD = (5 * Math.PI) / 16;

/** Every header and main once. */
export function pipesOf(supply: SupplyDesign): readonly HeaderPipe[] {
  const all = [...supply.main, ...supply.zones.flatMap((zone) => zone.pipes)];
  return [...new Map(all.map((pipe) => [pipe.id, pipe])).values()];
}

/** Every sleeve once. */
export function sleevesOf(supply: SupplyDesign): readonly Sleeve[] {
  const all = [...supply.sleeves, ...supply.zones.flatMap((zone) => zone.sleeves)];
  return [...new Map(all.map((sleeve) => [sleeve.id, sleeve])).values()];
}

interface Stretch {
  readonly id: string;
  readonly lengthM: number;
  readonly pipe: Pipe;
}

/** Whole sticks of each size, waste included; couplings where a stretch is longer than a stick. */
function countSticks(stretches: readonly Stretch[], wasteRatio: number, parts: PartsList): void {
  const bySize = new Map<string, Stretch[]>();
  for (const stretch of stretches) {
    bySize.set(stretch.pipe.id, [...(bySize.get(stretch.pipe.id) ?? []), stretch]);
  }
  for (const group of bySize.values()) {
    const { pipe } = group[0]!;
    const lengthM = group.reduce((sum, stretch) => sum + stretch.lengthM, 0) * (1 + wasteRatio);
    parts.countPart({
      id: pipe.id,
      name: `${pipe.name}, ${pipe.nominal}`,
      unit: pipe.material === 'pe' || pipe.material === 'blank-tubing' ? 'roll' : 'stick',
      quantity: Math.ceil(lengthM / pipe.stickLengthM - 1e-9),
      eachM: pipe.stickLengthM,
      from: group.map((stretch) => stretch.id),
      unitPrice: pipe.order?.price ?? null,
    });
  }
}

/** Fittings of solvent-welded pipe, from the topology: how many of each, and how many welds they make. */
export interface PipeFittings {
  readonly tees: number;
  readonly elbows: number;
  readonly elbows45: number;
  readonly reducers: number;
  readonly couplings: number;
  readonly welds: number;
}

interface End {
  readonly at: PlanPoint;
  readonly towards: PlanPoint;
  readonly pipe: Pipe;
}

function elbowFor(bendRad: number): 'none' | 'elbow' | 'elbow-45' {
  if (bendRad < LEAST_ELBOW_RAD) return 'none';
  return bendRad > RIGHT_ELBOW_RAD ? 'elbow' : 'elbow-45';
}

function bendsOf(path: Polyline): readonly number[] {
  return path.slice(1, -1).map((point, i) => Math.abs(turnRad(path[i]!, point, path[i + 2]!)));
}

/** Groups pipe ends that meet at one place. */
function meetings(pipes: readonly HeaderPipe[]): readonly (readonly End[])[] {
  const groups: End[][] = [];
  const ends = pipes.flatMap((pipe): End[] => [
    { at: pipe.path[0]!, towards: pipe.path[1]!, pipe: pipe.pipe },
    { at: pipe.path.at(-1)!, towards: pipe.path.at(-2)!, pipe: pipe.pipe },
  ]);
  for (const end of ends) {
    const group = groups.find(([first]) => distanceM(first!.at, end.at) <= SAME_PLACE_M);
    if (group) group.push(end);
    else groups.push([end]);
  }
  return groups;
}

/** How far two ends that meet are from running straight on. */
function bendAtRad([a, b]: readonly End[]): number {
  const between = Math.abs(headingRad(a!.at, a!.towards) - headingRad(b!.at, b!.towards));
  return Math.abs(Math.PI - Math.min(between, 2 * Math.PI - between));
}

/**
 * Counts elbows at bends, tees where three pipes meet, reducers where sizes change, couplings in stretches longer than
 * a stick. A place where four meet takes two tees.
 */
export function pipeFittings(pipes: readonly HeaderPipe[]): PipeFittings {
  const drawn = pipes.filter((pipe) => pipe.path.length >= 2);
  const groups = meetings(drawn);
  const pairs = groups.filter((group) => group.length === 2);
  const elbows = [
    ...drawn.flatMap((pipe) => bendsOf(pipe.path).map(elbowFor)),
    ...pairs.map((pair) => elbowFor(bendAtRad(pair))),
  ];
  const tees = groups.reduce((sum, group) => sum + Math.max(0, group.length - 2), 0);
  const reducers = groups.reduce((sum, group) => sum + new Set(group.map((end) => end.pipe.id)).size - 1, 0);
  const couplings = drawn.reduce(
    (sum, pipe) => sum + Math.max(0, Math.ceil(pipe.lengthM / pipe.pipe.stickLengthM - 1e-9) - 1),
    0,
  );
  const count = (kind: 'elbow' | 'elbow-45'): number => elbows.filter((elbow) => elbow === kind).length;
  const bends = count('elbow') + count('elbow-45');
  return {
    tees,
    elbows: count('elbow'),
    elbows45: count('elbow-45'),
    reducers,
    couplings,
    welds: 3 * tees + 2 * (bends + couplings + reducers),
  };
}

/** Drain points of main and headers: each hangs from a tee in the pipe. */
function drainsOf(supply: SupplyDesign): readonly Device[] {
  const all = [...supply.devices, ...supply.zones.flatMap((zone) => zone.devices)];
  return all.filter(({ kind }) => kind === 'drain-point');
}

/** Counts pipe by size and stick, sleeves, and the fittings of both; answers the number of solvent welds. */
export function countPipes(supply: SupplyDesign, wasteRatio: number, parts: PartsList): number {
  const pipes = pipesOf(supply);
  const sleeves = sleevesOf(supply);
  countSticks([...pipes, ...sleeves], wasteRatio, parts);
  const fittings = pipeFittings(pipes);
  const from = pipes.map((pipe) => pipe.id);
  parts.countUse('pvc-tee', fittings.tees, from);
  const drains = drainsOf(supply);
  parts.countUse(
    'pvc-tee',
    drains.length,
    drains.map(({ id }) => id),
  );
  parts.countUse('pvc-elbow', fittings.elbows, from);
  parts.countUse('pvc-elbow-45', fittings.elbows45, from);
  parts.countUse('pvc-reducer', fittings.reducers, from);
  parts.countUse('pvc-coupling', fittings.couplings, from);
  return fittings.welds + WELDS_OF_A_DRAIN * drains.length;
}
