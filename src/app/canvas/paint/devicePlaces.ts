import type { Design } from '../../../core/design';
import { type Box, distanceM, type PlanPoint } from '../../../core/geometry';
import type { Device } from '../../../core/supply';

/** Where a device's symbol stands, and whether that is aside of its true place. */
export interface DevicePlace {
  readonly device: Device;
  readonly at: PlanPoint;
  readonly isAside: boolean;
}

/** Who keeps its place where symbols meet: what is looked for first, first. Connections and controllers are drawn with the plan, check valves not at all. */
const RANK: readonly Device['kind'][] = [
  'valve-assembly',
  'backflow',
  'master-valve',
  'shut-off',
  'meter',
  'flow-sensor',
  'flush-valve',
  'drain-point',
  'air-relief',
];

/** Symbols whose middles are nearer than this many of their sizes, across and along, touch. */
const APART = 1.05;
/** Steps aside, in sizes of a symbol, in the order they are liked. */
const STEPS_ASIDE = [1.3, 2, 2.8] as const;
const WAYS_ASIDE = 8;

/** Places on a grid as wide as symbols keep apart: who stands near is found by looking into nine cells. */
class Taken {
  private readonly cells = new Map<string, PlanPoint[]>();

  constructor(private readonly apartM: number) {}

  private cellOf(at: PlanPoint, dx = 0, dy = 0): string {
    return `${Math.floor(at.x / this.apartM) + dx} ${Math.floor(at.y / this.apartM) + dy}`;
  }
  add(at: PlanPoint): void {
    const cell = this.cellOf(at);
    const here = this.cells.get(cell);
    if (here) here.push(at);
    else this.cells.set(cell, [at]);
  }
  isClear(at: PlanPoint): boolean {
    for (const dx of [-1, 0, 1])
      for (const dy of [-1, 0, 1])
        for (const other of this.cells.get(this.cellOf(at, dx, dy)) ?? [])
          if (Math.abs(other.x - at.x) < this.apartM && Math.abs(other.y - at.y) < this.apartM) return false;
    return true;
  }
}

/**
 * Where the symbols of a design stand so that each can be read: in their true places, but where one would cover another the
 * lesser steps aside, square to its pipe where that is clear, over as few lines as may be. Where no step is clear it stays.
 * `sizeM` is the side of a symbol on the ground; `linesIn` counts the lines that cross a box of ground.
 */
export function devicePlaces(
  design: Pick<Design, 'supply' | 'beds'>,
  sizeM: number,
  linesIn: (box: Box) => number,
): readonly DevicePlace[] {
  const { supply, beds } = design;
  const taken = new Taken(APART * sizeM);
  const all = [...supply.devices, ...supply.zones.flatMap((zone) => zone.devices)];
  const standing = all.filter(({ kind }) => kind === 'connection' || kind === 'controller');
  for (const { at } of standing) taken.add(at);
  for (const { layout } of beds) if (layout.status === 'routed') taken.add(layout.stubUp);
  const ranked = all
    .filter(({ kind }) => RANK.includes(kind))
    .sort((a, b) => RANK.indexOf(a.kind) - RANK.indexOf(b.kind) || (a.id < b.id ? -1 : 1));
  return ranked.map((device) => {
    const at = taken.isClear(device.at) ? device.at : placeAside(device, sizeM, taken, linesIn);
    taken.add(at);
    return { device, at, isAside: distanceM(at, device.at) > 0 };
  });
}

function placeAside(
  { at, angleRad }: Device,
  sizeM: number,
  taken: Taken,
  linesIn: (box: Box) => number,
): PlanPoint {
  for (const step of STEPS_ASIDE) {
    let best: { readonly at: PlanPoint; readonly lines: number } | null = null;
    for (let way = 0; way < WAYS_ASIDE; way += 1) {
      // Square to the pipe on one side, then on the other, then aslant, and last along it.
      const turn = Math.PI / 2 + ((way % 2 === 0 ? 0 : 1) + Math.floor(way / 2) / 4) * Math.PI;
      const place = {
        x: at.x + Math.cos(angleRad + turn) * step * sizeM,
        y: at.y + Math.sin(angleRad + turn) * step * sizeM,
      };
      if (!taken.isClear(place)) continue;
      const half = sizeM / 2;
      const lines = linesIn({
        minX: place.x - half,
        minY: place.y - half,
        maxX: place.x + half,
        maxY: place.y + half,
      });
      if (best === null || lines < best.lines) best = { at: place, lines };
    }
    if (best !== null) return best.at;
  }
  return at;
}
