import { distancesAlongM, pointsAlong } from './path';
import { cosOf } from './steady';
import type { PlanPoint, Polyline } from './types';

/** How a path is pulled aside. */
export interface Pull {
  /** Where along the path it is taken hold of, metres. */
  readonly alongM: number;
  /** How far that place is moved, metres. */
  readonly dx: number;
  readonly dy: number;
  /** How much of the path to either side gives way, metres, > 0. */
  readonly reachM: number;
  /** New points on the part that gives way stand no further apart than this, metres, > 0. */
  readonly stepM: number;
}

/**
 * A path pulled aside at one place, as soft tubing is by a hand: the place moves all the way, its neighbours less and less,
 * and beyond the reach nothing moves. Half a cosine wave, so that neither end of the moved part has a kink. An open path
 * gives way at its ends too; a closed one (first point repeated) stays closed. Numbers stay finite for a finite path.
 */
export function pullPath(path: Polyline, pull: Pull): PlanPoint[] {
  const distances = distancesAlongM(path);
  const lengthM = distances.at(-1) ?? 0;
  const [first, last] = [path[0], path.at(-1)];
  if (path.length < 2 || lengthM === 0 || !first || !last) return [...path];
  const isClosed = first.x === last.x && first.y === last.y;
  const awayM = (alongM: number): number => {
    const straightM = Math.abs(alongM - pull.alongM);
    return isClosed ? Math.min(straightM, lengthM - straightM) : straightM;
  };
  const extra: number[] = [];
  const count = Math.floor(pull.reachM / pull.stepM);
  for (let step = -count; step <= count; step++) {
    const alongM = pull.alongM + step * pull.stepM;
    const within = isClosed ? ((alongM % lengthM) + lengthM) % lengthM : alongM;
    if (within > 0 && within < lengthM) extra.push(within);
  }
  const all = [...distances, ...extra].sort((a, b) => a - b);
  const kept = all.filter((alongM, index) => index === 0 || alongM - (all[index - 1] ?? 0) > 1e-6);
  const moved = pointsAlong(path, kept).map(({ at }, index) => {
    const away = awayM(kept[index] ?? 0);
    const share = away >= pull.reachM ? 0 : (1 + cosOf((Math.PI * away) / pull.reachM)) / 2;
    return { x: at.x + share * pull.dx, y: at.y + share * pull.dy };
  });
  const [start] = moved;
  return isClosed && start ? [...moved.slice(0, -1), start] : moved;
}
