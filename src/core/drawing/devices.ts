import type { Design } from '../design';
import {
  distanceM,
  nearestOnPath,
  type PaperPoint,
  type PaperView,
  type PlanPoint,
  planToPaper,
  pointAlong,
  pointInRing,
  polylineLengthM,
  type Ring,
} from '../geometry';
import type { Device, SupplyDesign } from '../supply';
import { lineItem, stroke, WEIGHT } from './pen';
import { type SymbolKey, symbolItems } from './symbols';
import type { DrawingItem } from './types';
import { byId } from './water';

/** Sides of symbols that are not the usual, mm. */
const DEVICE_SIZE_MM: Partial<Record<SymbolKey, number>> = {
  'valve-assembly': 4.4,
  connection: 4,
  backflow: 4,
};

/** Every device once, by its symbol. */
export function devicesOf(supply: SupplyDesign): readonly Device[] {
  const found = new Map<string, Device>();
  for (const device of [...supply.devices, ...supply.zones.flatMap((z) => z.devices)]) {
    if (!found.has(device.id)) found.set(device.id, device);
  }
  return [...found.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
}

const LEAST_APART_MM = 4.8;

/** The main as one chain from the connection, following the first pipe that goes on at each end. */
function mainTrunk(supply: SupplyDesign, from: PlanPoint): readonly PlanPoint[] {
  const left = [...byId(supply.main)];
  const chain: PlanPoint[] = [];
  let at = from;
  for (;;) {
    const next = left.findIndex((pipe) => {
      const start = pipe.path[0];
      return start !== undefined && Math.hypot(start.x - at.x, start.y - at.y) < 0.05;
    });
    if (next < 0) return chain;
    const [pipe] = left.splice(next, 1);
    chain.push(...pipe!.path.slice(chain.length === 0 ? 0 : 1));
    at = pipe!.path[pipe!.path.length - 1]!;
  }
}

/** Devices that follow each other on the main closer than symbols are wide, drawn further apart along it, in their order. */
function apartOnMain(supply: SupplyDesign, view: PaperView): ReadonlyMap<string, PaperPoint> {
  const devices = devicesOf(supply);
  const places = new Map<string, PaperPoint>();
  const connection = devices.find((d) => d.kind === 'connection');
  const trunk = connection ? mainTrunk(supply, connection.at) : [];
  if (trunk.length < 2) return places;
  const apartM = (LEAST_APART_MM * view.scaleDenominator) / 1000;
  const lengthM = polylineLengthM(trunk);
  const inline = devices
    .filter((d) => d.zoneId === null && d.kind !== 'controller')
    .map((d) => ({ id: d.id, ...nearestOnPath(d.at, trunk) }))
    .filter((d) => d.distanceM < 0.3)
    .sort((a, b) => a.alongM - b.alongM || (a.id < b.id ? -1 : 1));
  let last = -apartM;
  for (const device of inline) {
    last = Math.max(device.alongM, last + apartM);
    if (last > lengthM) break;
    places.set(device.id, planToPaper(pointAlong(trunk, last).at, view));
  }
  return places;
}

const MAY_STAND_ASIDE: ReadonlySet<Device['kind']> = new Set(['air-relief', 'drain-point']);
/** A symbol nearer than this to a stub-up covers it. */
const COVERS_MM = 3.2;
const ASIDE_MM = 4.6;
const WAYS_ASIDE = 16;

/** Headings, on paper anticlockwise, in which pipes leave a place. */
function pipeHeadings(supply: SupplyDesign, at: PlanPoint, reachM: number): readonly number[] {
  return supply.zones
    .flatMap((zone) => zone.pipes)
    .flatMap(({ path }) => {
      const near = nearestOnPath(at, path);
      if (near.distanceM > 0.1) return [];
      const lengthM = polylineLengthM(path);
      return [near.alongM - reachM, near.alongM + reachM]
        .filter((alongM) => alongM > -reachM / 2 && alongM < lengthM + reachM / 2)
        .map((alongM) => pointAlong(path, Math.max(0, Math.min(lengthM, alongM))).at)
        .filter((p) => distanceM(p, at) > 1e-3)
        .map((p) => Math.atan2(p.y - at.y, p.x - at.x));
    });
}

/** Where a device stands aside of a stub-up that its symbol would cover: outside the bed, as far as may be from the pipes there. */
function asideOf(design: Design, stubUp: PlanPoint, outline: readonly Ring[], view: PaperView): PaperPoint {
  const mPerMm = view.scaleDenominator / 1000;
  const taken = pipeHeadings(design.supply, stubUp, ASIDE_MM * mPerMm);
  const clearOf = (heading: number): number =>
    Math.min(
      Math.PI,
      ...taken.map((other) => Math.abs(Math.atan2(Math.sin(heading - other), Math.cos(heading - other)))),
    );
  const ways = Array.from({ length: WAYS_ASIDE }, (_, k) => {
    const heading = (k * 2 * Math.PI) / WAYS_ASIDE;
    const at = {
      x: stubUp.x + Math.cos(heading) * ASIDE_MM * mPerMm,
      y: stubUp.y + Math.sin(heading) * ASIDE_MM * mPerMm,
    };
    const isOutside = !outline.some((ring) => pointInRing(at, ring));
    return { at, worth: Math.min(1, clearOf(heading)) + (isOutside ? 2 : 0) };
  });
  const best = ways.reduce((one, other) => (other.worth > one.worth + 1e-9 ? other : one));
  return planToPaper(best.at, view);
}

/**
 * Where each device's symbol stands on paper: in its true place, but for devices that follow each other closely on the
 * main, and for those whose symbol would cover a stub-up.
 */
export function devicePlaces(design: Design, view: PaperView): ReadonlyMap<string, PaperPoint> {
  const { supply } = design;
  const places = new Map(devicesOf(supply).map((d) => [d.id, planToPaper(d.at, view)]));
  for (const [id, at] of apartOnMain(supply, view)) places.set(id, at);
  const coversM = (COVERS_MM * view.scaleDenominator) / 1000;
  for (const device of devicesOf(supply)) {
    if (!MAY_STAND_ASIDE.has(device.kind)) continue;
    const covered = design.beds.find(
      ({ layout }) => layout.status === 'routed' && distanceM(layout.stubUp, device.at) < coversM,
    );
    if (!covered) continue;
    const outline = covered.layout.outline.map(({ outer }) => outer);
    places.set(device.id, asideOf(design, covered.layout.stubUp, outline, view));
  }
  return places;
}

const STANDS_UPRIGHT: ReadonlySet<Device['kind']> = new Set([
  'flush-valve',
  'air-relief',
  'drain-point',
  'controller',
]);

/** Symbols of the supply side, each turned along its pipe where it lies in one; one that stands aside is tied to its place. */
export function deviceItems(design: Design, view: PaperView): readonly DrawingItem[] {
  const places = devicePlaces(design, view);
  return devicesOf(design.supply).flatMap((device) => {
    const mark = { layer: 'devices', of: device.id };
    const own = planToPaper(device.at, view);
    const at = places.get(device.id) ?? own;
    const isAside = MAY_STAND_ASIDE.has(device.kind) && Math.hypot(at.x - own.x, at.y - own.y) > 0.1;
    return [
      ...(isAside ? [lineItem(mark, own, at, stroke('ink', WEIGHT.mid))] : []),
      ...symbolItems(
        mark,
        device.kind,
        at,
        DEVICE_SIZE_MM[device.kind] ?? 3.6,
        STANDS_UPRIGHT.has(device.kind) ? 0 : device.angleRad + view.turnRad,
      ),
    ];
  });
}
