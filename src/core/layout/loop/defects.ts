import {
  closeRing,
  distanceM,
  type GroundSamples,
  type PlanPoint,
  type Polyline,
  type Region,
  type Ring,
  SegmentIndex,
  sampleGround,
  samplePoint,
  signedRingAreaM2,
  squaredDistances,
  turnRad,
} from '../../geometry';

/** Ground further than this many row spacings from tubing is left dry. */
export const DRY_RATIO = 0.55;
/** Ground is looked at on a grid of this many points a row spacing, and no more points than this in all. */
const SAMPLES_A_ROW = 10;
const MOST_SAMPLES = 120_000;
/** Distances come from the grid up to this many spacings. */
const NEAR_RATIO = 0.75;

/** A sharp corner holds no grid point within this many steps of its tip. */
const MOST_CELLS_TO_CORNER = 4;

/** A patch of ground left dry. */
export interface DryPatch {
  /** Points of it, a grid step apart. */
  readonly points: readonly PlanPoint[];
  readonly areaM2: number;
  /** Its point furthest from tubing, and how far. */
  readonly at: PlanPoint;
  readonly distanceM: number;
}

/** Ground as points to be measured: a grid, and the ground's own corners, which lie furthest from rows that turn short of them. */
export interface SampledGround {
  readonly samples: GroundSamples;
  readonly corners: readonly PlanPoint[];
}

/** Ground as points fine enough for rows `spacingM` apart. */
export function samplesOf(ground: Region, spacingM: number): SampledGround {
  return { samples: sampleGround(ground, spacingM / SAMPLES_A_ROW, MOST_SAMPLES), corners: ground.flat() };
}

/** Ground of the bed further than 0.55 of the spacing from the loops, with its furthest points; largest patch first. */
export function dryPatches(
  loops: readonly Ring[],
  { samples, corners }: SampledGround,
  spacingM: number,
): DryPatch[] {
  const paths = loops.map(closeRing);
  const square = squaredDistances(samples, paths, NEAR_RATIO * spacingM);
  const limit = (DRY_RATIO * spacingM) ** 2;
  const isDry = new Uint8Array(square.length);
  let first = square.length;
  for (let index = square.length - 1; index >= 0; index--)
    if (samples.isGround[index] === 1 && square[index]! > limit) {
      isDry[index] = 1;
      first = index;
    }
  if (first === square.length) return [];
  const far = new FarDistances(paths);
  const patches: { points: PlanPoint[]; at: PlanPoint; distanceM: number }[] = [];
  const patchOf = new Int32Array(square.length).fill(-1);
  for (let index = first; index < isDry.length; index++) {
    if (isDry[index] === 0) continue;
    const patch = { points: [] as PlanPoint[], at: samplePoint(samples, index), distanceM: 0 };
    for (const member of flood(isDry, samples.columns, index)) {
      const point = samplePoint(samples, member);
      const here =
        square[member]! < Number.POSITIVE_INFINITY
          ? Math.sqrt(square[member]!)
          : far.toM(point, patch.distanceM);
      if (here > patch.distanceM) Object.assign(patch, { at: point, distanceM: here });
      patch.points.push(point);
      patchOf[member] = patches.length;
    }
    patches.push(patch);
  }
  for (const corner of corners) {
    const patch = patches[patchBeside(corner, samples, patchOf)];
    if (!patch) continue;
    const here = far.toM(corner, patch.distanceM);
    if (here > patch.distanceM) Object.assign(patch, { at: corner, distanceM: here });
  }
  return patches
    .map((patch) => ({ ...patch, areaM2: patch.points.length * samples.stepM ** 2 }))
    .sort((one, other) => other.areaM2 - one.areaM2 || one.at.x - other.at.x || one.at.y - other.at.y);
}

/** The patch that a point lies in or beside, the nearest first; -1 where there is none. */
function patchBeside(point: PlanPoint, samples: GroundSamples, patchOf: Int32Array): number {
  const column = Math.round((point.x - samples.x0) / samples.stepM);
  const row = Math.round((point.y - samples.y0) / samples.stepM);
  for (let reach = 0; reach <= MOST_CELLS_TO_CORNER; reach++)
    for (let up = -reach; up <= reach; up++)
      for (let across = -reach; across <= reach; across++) {
        const patch = patchOf[(row + up) * samples.columns + column + across] ?? -1;
        if (patch >= 0) return patch;
      }
  return -1;
}

/** Distances of points beyond the grid's reach; the index is built only where one is asked for. */
class FarDistances {
  private index: SegmentIndex | null = null;
  private last: { readonly at: PlanPoint; readonly distanceM: number } | null = null;

  constructor(private readonly paths: readonly Polyline[]) {}

  /** Distance to the paths; 0 where the point asked for last, and how near it is, show that it is no more than `beyondM`. */
  toM(point: PlanPoint, beyondM: number): number {
    if (this.last && this.last.distanceM + distanceM(this.last.at, point) <= beyondM) return 0;
    this.index ??= SegmentIndex.ofPaths(this.paths);
    const found = this.index.nearest(point)?.distanceM ?? 0;
    this.last = { at: point, distanceM: found };
    return found;
  }
}

/** Takes the marked cells that hang together with one, side by side or cornerwise, and clears their marks. */
function flood(marks: Uint8Array, columns: number, from: number): number[] {
  const members = [from];
  marks[from] = 0;
  for (let order = 0; order < members.length; order++) {
    const cell = members[order]!;
    const column = cell % columns;
    for (let across = -1; across <= 1; across++) {
      if (column + across < 0 || column + across >= columns) continue;
      for (let up = -1; up <= 1; up++) {
        const next = cell + across + up * columns;
        if (marks[next] !== 1) continue;
        marks[next] = 0;
        members.push(next);
      }
    }
  }
  return members;
}

/** Turns of a loop: places where the heading changes by more than 60 degrees within 0.6 of a spacing. */
export function countTurns(loop: Polyline, spacingM: number): number {
  let turns = 0;
  let turnedRad = 0;
  let travelledM = 0;
  for (let index = 1; index + 1 < loop.length; index++) {
    travelledM += distanceM(loop[index - 1]!, loop[index]!);
    if (travelledM > 0.6 * spacingM) {
      turnedRad = 0;
      travelledM = 0;
    }
    turnedRad += turnRad(loop[index - 1]!, loop[index]!, loop[index + 1]!);
    if (Math.abs(turnedRad) > Math.PI / 3) {
      turns++;
      turnedRad = 0;
      travelledM = 0;
    }
  }
  return turns;
}

/** Ground of a region, holes taken off, m2. */
export function groundM2(region: Region): number {
  return region.reduce((sum, ring) => sum + signedRingAreaM2(ring), 0);
}
