import { arcPoints, type PlanPoint, type Polyline, type Ring } from '../../core/geometry';
import {
  areaShape,
  type Bed,
  type Command,
  type ItemMap,
  plainBed,
  plainSource,
  type Structure,
} from '../../core/plan';
import type { TracedCorner } from './outline';
import type { ToolContext } from './tool';

type Item = Readonly<Record<string, unknown>> & { readonly id: string };
const put = (map: ItemMap, item: Item): Command => ({ name: 'put-item', params: { map, item } });

const PLAIN_EDGE = { class: null, offsetM: null } as const;

/** A ring of a bed from traced corners. */
export const bedRing = (corners: readonly TracedCorner[]): Bed['rings'][number] => ({
  points: corners.map((corner) => corner.at),
  edges: corners.map((corner) => ({ ...PLAIN_EDGE, sagittaM: corner.sagittaM })),
});

export function bedFromCorners(corners: readonly TracedCorner[], context: ToolContext): Command {
  return put('beds', plainBed(context.newId('bed'), [bedRing(corners)]));
}

export const bedFromRing = (ring: Ring, context: ToolContext): Command =>
  bedFromCorners(
    ring.map((at) => ({ at, sagittaM: 0 })),
    context,
  );

/** A hole cut into the one bed that is chosen; without one it becomes a bed of its own. */
export function holeFromCorners(corners: readonly TracedCorner[], context: ToolContext): Command {
  const chosen = context.selection.find((item) => item.map === 'beds');
  const bed = chosen ? context.plan.beds[chosen.id] : undefined;
  if (!bed) return bedFromCorners(corners, context);
  return { name: 'set-bed', params: { id: bed.id, changes: { rings: [...bed.rings, bedRing(corners)] } } };
}

/** The chosen bed's tubing as one loop drawn by hand, arcs as points; it is checked like any other. */
export function loopFromCorners(corners: readonly TracedCorner[], context: ToolContext): Command {
  const chosen = context.selection.find((item) => item.map === 'beds');
  const path = corners.flatMap((corner, index) => {
    const next = corners[(index + 1) % corners.length] ?? corner;
    return arcPoints(corner.at, next.at, corner.sagittaM).slice(0, -1);
  });
  return {
    name: 'set-route',
    params: { id: chosen?.id ?? '', runs: [{ role: 'loop', closed: true, path }] },
  };
}

function structure(
  context: ToolContext,
  kind: Structure['kind'],
  name: string,
  shape: Structure['shape'],
): Command {
  return put('structures', { id: context.newId(kind), name, kind, shape, clearanceM: null });
}

export const areaOf =
  (kind: Structure['kind'], name: string) =>
  (corners: readonly TracedCorner[], context: ToolContext): Command =>
    structure(
      context,
      kind,
      name,
      areaShape({ points: corners.map((corner) => corner.at), edges: corners, isClosed: true }),
    );

export const walkFromPath = (path: Polyline, context: ToolContext): Command =>
  structure(context, 'paving', 'Walk', { kind: 'line', path: [...path], widthM: context.sizes.walkWidthM });
export const fenceFromPath = (path: Polyline, context: ToolContext): Command =>
  structure(context, 'fence', 'Fence', { kind: 'line', path: [...path], widthM: 0 });
export const boulderAt = (at: PlanPoint, radiusM: number, context: ToolContext): Command =>
  structure(context, 'obstacle', 'Boulder', { kind: 'disc', at, radiusM });

export function treeAt(at: PlanPoint, canopyRadiusM: number, context: ToolContext): Command {
  const trunkRadiusM = Math.min(context.sizes.trunkRadiusM, canopyRadiusM);
  return put('trees', { id: context.newId('tree'), name: '', at, trunkRadiusM, canopyRadiusM });
}
export const plantAt = (at: PlanPoint, rootBallRadiusM: number, context: ToolContext): Command =>
  put('plants', { id: context.newId('plant'), name: '', at, rootBallRadiusM });
export const utilityFromPath = (path: Polyline, context: ToolContext): Command =>
  put('utilities', {
    id: context.newId('line'),
    name: '',
    path: [...path],
    depthM: context.sizes.lineDepthM,
  });
const pipeFromPath =
  (role: 'main' | 'header') =>
  (path: Polyline, context: ToolContext): Command =>
    put('lockedPipes', { id: context.newId(role), role, zoneKey: null, path: [...path], pipeId: null });
/** A header led by hand; it belongs to the zone it lies nearest to until one is chosen for it. */
export const headerFromPath = pipeFromPath('header');
export const mainFromPath = pipeFromPath('main');
export const spotAt = (at: PlanPoint, context: ToolContext): Command =>
  put('spots', { id: context.newId('spot'), at, elevationM: context.sizes.spotElevationM });
export const noteAt = (from: PlanPoint, to: PlanPoint, context: ToolContext): Command =>
  put('notes', { id: context.newId('note'), text: context.sizes.noteText, at: to, leader: from });

/** There is one connection: placing it again moves it. */
export function sourceAt(at: PlanPoint, context: ToolContext): Command {
  const present = Object.values(context.plan.sources)[0];
  return put('sources', present ? { ...present, at } : plainSource(context.newId('source'), at));
}
export const valveAt = (at: PlanPoint, context: ToolContext): Command =>
  put('valves', {
    id: context.newId('valve'),
    name: '',
    at,
    elevationM: null,
    zoneKey: null,
    assemblyId: null,
  });
export function controllerAt(at: PlanPoint, context: ToolContext): Command {
  const present = Object.values(context.plan.controllers)[0];
  return put('controllers', {
    id: present?.id ?? context.newId('controller'),
    name: '',
    stations: 6,
    masterValve: false,
    flowSensor: false,
    weatherSensor: false,
    ...present,
    at,
  });
}
/** The stub-up of the chosen bed. */
export function stubUpAt(at: PlanPoint, context: ToolContext): Command {
  const chosen = context.selection.find((item) => item.map === 'beds');
  return { name: 'set-bed', params: { id: chosen?.id ?? '', changes: { stubUp: at } } };
}
