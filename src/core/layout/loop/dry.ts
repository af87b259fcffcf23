import { closeRing, type PlanPoint, type Region, type Ring } from '../../geometry';
import { distancesSquared, type Samples, sampleGround } from '../groundSamples';

/** Ground further than this many row spacings from tubing is left dry. */
export const DRY_RATIO = 0.55;
/** Samples of the ground to a row spacing: a patch is known to a tenth of a row. */
const SAMPLES_A_ROW = 10;
const MOST_SAMPLES = 60_000;
/** Distances are measured up to this many row spacings; ground further off counts as this far. */
const REACH_RATIO = 1.2;

/** A patch of ground left dry. */
export interface DryPatch {
  readonly areaM2: number;
  /** Its point furthest from tubing, and how far. */
  readonly at: PlanPoint;
  readonly distanceM: number;
  /** Points of the patch, a tenth of a row apart. */
  readonly points: readonly PlanPoint[];
}

/** The ground of a frame sampled once, however many outlines are tried on it. */
const sampled = new WeakMap<Region, { readonly stepM: number; readonly samples: Samples }>();

function samplesOf(ground: Region, spacingM: number): Samples {
  const finestM = spacingM / SAMPLES_A_ROW;
  const known = sampled.get(ground);
  if (known?.stepM === finestM) return known.samples;
  const samples = sampleGround(ground, finestM, MOST_SAMPLES);
  sampled.set(ground, { stepM: finestM, samples });
  return samples;
}

/** Ground of the bed further than 0.55 of the spacing from the loops, with its furthest points; largest patch first. */
export function dryPatches(loops: readonly Ring[], ground: Region, spacingM: number): DryPatch[] {
  const samples = samplesOf(ground, spacingM);
  const square = distancesSquared(samples, loops.map(closeRing), REACH_RATIO * spacingM);
  const limit = (DRY_RATIO * spacingM) ** 2;
  const isDry = new Uint8Array(square.length);
  for (let i = 0; i < square.length; i += 1)
    if (samples.isGround[i] === 1 && square[i]! > limit) isDry[i] = 1;
  const patches: DryPatch[] = [];
  for (let i = 0; i < isDry.length; i += 1)
    if (isDry[i] === 1) patches.push(patchOf(gather(i, isDry, samples.columns), samples, square, spacingM));
  return patches.sort(
    (one, other) => other.areaM2 - one.areaM2 || one.at.x - other.at.x || one.at.y - other.at.y,
  );
}

/** Takes the cells that hang together with one by their sides out of `isDry`. */
function gather(first: number, isDry: Uint8Array, columns: number): number[] {
  const cells = [first];
  isDry[first] = 0;
  for (let next = 0; next < cells.length; next += 1) {
    const cell = cells[next]!;
    const column = cell % columns;
    const beside = [
      column > 0 ? cell - 1 : -1,
      column + 1 < columns ? cell + 1 : -1,
      cell - columns,
      cell + columns,
    ];
    for (const other of beside) {
      if (other < 0 || isDry[other] !== 1) continue;
      isDry[other] = 0;
      cells.push(other);
    }
  }
  return cells;
}

function patchOf(
  cells: readonly number[],
  samples: Samples,
  square: Float64Array,
  spacingM: number,
): DryPatch {
  const { x0, y0, stepM, columns } = samples;
  const pointOf = (cell: number): PlanPoint => ({
    x: x0 + (cell % columns) * stepM,
    y: y0 + Math.floor(cell / columns) * stepM,
  });
  const furthest = cells.reduce((best, cell) => (square[cell]! > square[best]! ? cell : best));
  return {
    areaM2: cells.length * stepM * stepM,
    at: pointOf(furthest),
    distanceM: Math.min(REACH_RATIO * spacingM, Math.sqrt(square[furthest]!)),
    points: cells.map(pointOf),
  };
}
