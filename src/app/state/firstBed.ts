import { rectangleRing } from '../../core/geometry';
import { plainBed, plainSource, type WaterSource } from '../../core/plan';
import { bedRing } from '../tools/build';
import { useDesk } from './desk';
import { edit } from './edit';
import { choose, showWhole } from './selection';

/** How far off the first bed the connection is set down until it gets its true place, metres. */
const BESIDE_M = 1.5;
/** A house whose depth is not known yet is drawn this deep, metres. */
const HOUSE_DEPTH_M = 3;

/** The connection, put on the plan when the first thing about it is said. */
export function setFirstSource(changes: Partial<WaterSource>): boolean {
  const present = Object.values(useDesk.getState().history.plan.sources)[0];
  const source = present ?? plainSource('source-1', { x: -BESIDE_M, y: -BESIDE_M });
  return edit({ name: 'put-item', params: { map: 'sources', item: { ...source, ...changes } } });
}

/** Draws the first bed with a corner on the datum, with a house along its north side where it stands against one. */
export function drawFirstBed(eastM: number, northM: number, isAgainstHouse: boolean): boolean {
  const ring = rectangleRing({ x: 0, y: 0 }, { x: eastM, y: northM });
  const bed = plainBed('bed-1', [bedRing(ring.map((at) => ({ at, sagittaM: 0 })))]);
  const house = {
    id: 'building-1',
    name: 'House',
    kind: 'building',
    shape: {
      kind: 'area',
      rings: [rectangleRing({ x: 0, y: northM }, { x: eastM, y: northM + HOUSE_DEPTH_M })],
    },
    clearanceM: null,
  };
  const put = [{ map: 'beds', item: bed }, ...(isAgainstHouse ? [{ map: 'structures', item: house }] : [])];
  if (!edit({ name: 'replace-items', params: { remove: [], put } })) return false;
  choose([{ map: 'beds', id: bed.id }]);
  showWhole();
  return true;
}
