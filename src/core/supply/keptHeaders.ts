import { distanceM, type PlanPoint, type Polyline, SAME_POINT_M } from '../geometry';
import type { HeaderPipe, Zone } from './types';

const isSame = (a: PlanPoint | undefined, b: PlanPoint | undefined): boolean =>
  a !== undefined && b !== undefined && distanceM(a, b) <= SAME_POINT_M;

/** The piece that goes on where one ends: of several the one that carries most water. */
const nextPiece = (end: PlanPoint | undefined, waiting: readonly HeaderPipe[]): HeaderPipe | undefined =>
  waiting
    .filter(({ path }) => isSame(path[0], end))
    .sort((a, b) => b.flowM3s - a.flowM3s || (a.id < b.id ? -1 : 1))[0];

/**
 * The headers that were found for a zone as a person would draw them: from the assembly to the end of the water's main way
 * in one line, each branch from its tee. What was drawn by hand is not among them: it is kept already.
 *
 * @returns paths in metres, outwards; each has two points or more
 */
export function foundHeaders(zone: Pick<Zone, 'pipes'>): Polyline[] {
  const waiting = new Set(
    zone.pipes.filter(({ locked, path, lengthM }) => !locked && path.length > 1 && lengthM > SAME_POINT_M),
  );
  const paths: Polyline[] = [];
  while (waiting.size > 0) {
    const all = [...waiting];
    // Pieces come from the root outwards, so the first that is left begins at the assembly or at a tee.
    let piece: HeaderPipe | undefined = all[0];
    const path: PlanPoint[] = [];
    while (piece) {
      waiting.delete(piece);
      path.push(...piece.path.slice(path.length === 0 ? 0 : 1));
      piece = nextPiece(path.at(-1), [...waiting]);
    }
    paths.push(path);
  }
  return paths;
}
