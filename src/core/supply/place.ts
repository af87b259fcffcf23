import { centroid, distanceM, type PlanPoint, pointInMultiPolygon, quantisePoint } from '../geometry';
import type { Site } from './site';

/** How far apart boxes stand, how near the source they may be, and how far the search goes. */
const BOX_APART_M = 0.6;
const NEAREST_M = 1.2;
const FURTHEST_M = 12;
const STEP_M = 0.6;
const DIRECTIONS = 24;

/** Middle of some points; the origin where there are none. */
export function middleOfPoints(points: readonly PlanPoint[]): PlanPoint {
  if (points.length === 0) return { x: 0, y: 0 };
  const sum = points.reduce((total, { x, y }) => ({ x: total.x + x, y: total.y + y }), { x: 0, y: 0 });
  return { x: sum.x / points.length, y: sum.y / points.length };
}

/**
 * A place for a valve box near a point: outside buildings, obstacles, paving and (where it can be) beds, clear of the
 * boxes already placed, on the side the water has to go; where there is none in reach, the place itself, out of the way.
 */
export function placeBox(
  site: Site,
  near: PlanPoint,
  towards: PlanPoint,
  taken: readonly PlanPoint[],
): PlanPoint {
  const headingRad = Math.atan2(towards.y - near.y, towards.x - near.x);
  const isFree = (at: PlanPoint, mayUseBeds: boolean): boolean =>
    !pointInMultiPolygon(at, site.blocked) &&
    !pointInMultiPolygon(at, site.paved.ground) &&
    (mayUseBeds || !site.beds.some(({ ground }) => pointInMultiPolygon(at, ground))) &&
    taken.every((other) => distanceM(other, at) >= BOX_APART_M - 1e-6);
  for (const mayUseBeds of [false, true]) {
    for (let awayM = NEAREST_M; awayM <= FURTHEST_M; awayM += STEP_M) {
      for (let step = 0; step < DIRECTIONS; step++) {
        const side = step % 2 === 0 ? step / 2 : -(step + 1) / 2;
        const angleRad = headingRad + (side * 2 * Math.PI) / DIRECTIONS;
        const at = quantisePoint({
          x: near.x + awayM * Math.cos(angleRad),
          y: near.y + awayM * Math.sin(angleRad),
        });
        if (isFree(at, mayUseBeds)) return at;
      }
    }
  }
  return outsideBlocked(site, quantisePoint(near));
}

/** Where a point inside a building or an obstacle leaves it: the nearest place of its edge, a hand's breadth out; else the point. */
export function outsideBlocked(site: Site, point: PlanPoint): PlanPoint {
  const part = site.solid.ground.find((ground) => pointInMultiPolygon(point, [ground]));
  if (!part) return point;
  const near = site.solid.index.nearest(point);
  if (!near) return point;
  const middle = centroid(part);
  const outwards = near.distanceM > 1e-6 ? point : middle;
  const lengthM = distanceM(outwards, near.at) || 1;
  const outM = 0.05;
  return quantisePoint({
    x: near.at.x + ((near.at.x - outwards.x) / lengthM) * outM,
    y: near.at.y + ((near.at.y - outwards.y) / lengthM) * outM,
  });
}
