import { distanceM, type PlanPoint } from '../geometry';
import { middleOfPoints } from './place';
import type { ServedBed } from './types';

/** Beds on one valve while they are gathered. */
export interface Open {
  beds: ServedBed[];
  flowM3s: number;
}

/** A bed with the flow it asks for. */
interface Asked {
  readonly bed: ServedBed;
  readonly flowM3s: number;
}

/** Beyond so many beds of one kind only some starts of a sweep are tried, evenly spread. */
const MOST_STARTS = 48;

const stubOf = (bed: ServedBed): PlanPoint => bed.layout.stubUp;
const distanceToGroupM = (group: Open, bed: ServedBed): number =>
  Math.min(...group.beds.map((other) => distanceM(stubOf(other), stubOf(bed))));
const spanWith = (group: Open, bed: ServedBed): number => {
  const heights = [...group.beds, bed].map(({ elevationM }) => elevationM);
  return Math.max(...heights) - Math.min(...heights);
};

interface Limits {
  readonly flowM3s: number;
  readonly spanM: number;
}

const hasRoom = (group: Open, { bed, flowM3s }: Asked, limits: Limits): boolean =>
  group.flowM3s + flowM3s <= limits.flowM3s * (1 + 1e-9) && spanWith(group, bed) <= limits.spanM;

/** Biggest beds first, each to the nearest group that still has room: few valves. */
function packByFlow(asked: readonly Asked[], limits: Limits): Open[] {
  const groups: Open[] = [];
  const order = [...asked].sort((a, b) => b.flowM3s - a.flowM3s || (a.bed.bedId < b.bed.bedId ? -1 : 1));
  for (const one of order) {
    const fits = groups
      .filter((group) => hasRoom(group, one, limits))
      .map((group, index) => ({ group, index, awayM: distanceToGroupM(group, one.bed) }))
      .sort((a, b) => a.awayM - b.awayM || a.index - b.index)[0];
    if (fits) {
      fits.group.beds.push(one.bed);
      fits.group.flowM3s += one.flowM3s;
    } else groups.push({ beds: [one.bed], flowM3s: one.flowM3s });
  }
  return groups;
}

/** Beds in the order given, a new valve wherever the last has no room: neighbours of the order stay together. */
function packInOrder(order: readonly Asked[], limits: Limits): Open[] {
  const groups: Open[] = [];
  for (const one of order) {
    const last = groups.at(-1);
    if (last && hasRoom(last, one, limits)) {
      last.beds.push(one.bed);
      last.flowM3s += one.flowM3s;
    } else groups.push({ beds: [one.bed], flowM3s: one.flowM3s });
  }
  return groups;
}

/** Orders that keep neighbours together: round the middle, from every start; across, and up. */
function sweepsOf(asked: readonly Asked[]): Asked[][] {
  const middle = middleOfPoints(asked.map(({ bed }) => stubOf(bed)));
  const sortedBy = (measure: (at: PlanPoint) => number): Asked[] =>
    [...asked].sort(
      (a, b) => measure(stubOf(a.bed)) - measure(stubOf(b.bed)) || (a.bed.bedId < b.bed.bedId ? -1 : 1),
    );
  const round = sortedBy(({ x, y }) => Math.atan2(y - middle.y, x - middle.x));
  const step = Math.max(1, Math.ceil(round.length / MOST_STARTS));
  const rounds: Asked[][] = [];
  for (let start = 0; start < round.length; start += step)
    rounds.push([...round.slice(start), ...round.slice(0, start)]);
  return [...rounds, sortedBy(({ x }) => x), sortedBy(({ y }) => y)];
}

/** Least length of straight trench that joins the stub-ups of one valve, m (Prim's tree). */
function spreadM(group: Open): number {
  const [first, ...rest] = group.beds.map(stubOf);
  if (!first) return 0;
  let sumM = 0;
  const waiting = rest.map((at) => ({ at, awayM: distanceM(first, at) }));
  while (waiting.length > 0) {
    const nearest = waiting.reduce(
      (best, one, index) => (one.awayM < waiting[best]!.awayM ? index : best),
      0,
    );
    const [joined] = waiting.splice(nearest, 1);
    sumM += joined!.awayM;
    for (const one of waiting) one.awayM = Math.min(one.awayM, distanceM(joined!.at, one.at));
  }
  return sumM;
}

/**
 * Beds of one kind shared among valves: as few valves as packing by flow gets, and of the ways with so few the one whose
 * stub-ups lie closest together. Loops of one large bed are all alike: packed by flow alone, their headers run across one
 * another.
 */
export function packBeds(asked: readonly Asked[], limits: Limits): Open[] {
  const byFlow = packByFlow(asked, limits);
  if (byFlow.length < 2) return byFlow;
  const totalM = (groups: readonly Open[]): number => groups.reduce((sum, group) => sum + spreadM(group), 0);
  let best = { groups: byFlow, spreadM: totalM(byFlow) };
  for (const order of sweepsOf(asked)) {
    const groups = packInOrder(order, limits);
    if (groups.length > byFlow.length) continue;
    const lengthM = totalM(groups);
    if (lengthM < best.spreadM - 1e-6) best = { groups, spreadM: lengthM };
  }
  return best.groups;
}
