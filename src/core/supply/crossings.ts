import { type Catalog, setting } from '../catalog';
import {
  boxesTouch,
  boxOf,
  distanceM,
  type PlanPoint,
  type Polyline,
  pointAlong,
  pointInMultiPolygon,
  polylineLengthM,
  quantisePoint,
  quantisePoints,
  segmentCrossing,
  slicePath,
} from '../geometry';
import type { Plan } from '../plan';
import { type Area, type Site, spansInside } from './site';
import { sleeveFor } from './sizing';
import type { HeaderPipe, Sleeve, UtilityCrossing } from './types';

/** A part of a path, by distances along it. */
export interface Span {
  fromM: number;
  toM: number;
}

/** Parts of a path inside some ground, as distances along it; parts that touch are one. */
export function spansAlong(ground: Area, path: Polyline): Span[] {
  const spans: Span[] = [];
  let alongM = 0;
  for (let index = 1; index < path.length; index++) {
    const a = path[index - 1]!;
    const b = path[index]!;
    const lengthM = distanceM(a, b);
    for (const [from, to] of spansInside(ground, a, b)) {
      const span = { fromM: alongM + from * lengthM, toM: alongM + to * lengthM };
      const last = spans.at(-1);
      if (last && span.fromM - last.toM < 1e-3) last.toM = span.toM;
      else spans.push(span);
    }
    alongM += lengthM;
  }
  return spans.filter(({ fromM, toM }) => toM - fromM > 0.01);
}

/** Consecutive pipes end to end, so that a crossing with a tee under it is still one crossing. */
function chainsOf(pipes: readonly HeaderPipe[]): { path: PlanPoint[]; pipe: HeaderPipe }[] {
  const chains: { path: PlanPoint[]; pipe: HeaderPipe }[] = [];
  for (const pipe of pipes) {
    const start = pipe.path[0]!;
    const before = chains.find(({ path }) => distanceM(path.at(-1)!, start) < 1e-3);
    if (before) {
      before.path.push(...pipe.path.slice(1));
      if (pipe.pipe.outsideDiameterM > before.pipe.pipe.outsideDiameterM) before.pipe = pipe;
    } else chains.push({ path: [...pipe.path], pipe });
  }
  return chains;
}

/** A straight piece beyond the end of a path, in its last direction. */
function beyond(from: PlanPoint, to: PlanPoint, lengthM: number): PlanPoint {
  const awayM = distanceM(from, to) || 1;
  return { x: to.x + ((to.x - from.x) / awayM) * lengthM, y: to.y + ((to.y - from.y) / awayM) * lengthM };
}

/** The part of a path with a length beyond it on both sides, straight on where the path ends. */
export function sleevePath(path: Polyline, span: Span, extraM: number): PlanPoint[] {
  const wholeM = polylineLengthM(path);
  const inside = slicePath(path, Math.max(0, span.fromM - extraM), Math.min(wholeM, span.toM + extraM));
  const before = extraM - span.fromM;
  const after = extraM - (wholeM - span.toM);
  const head = before > 1e-6 ? [beyond(inside[1]!, inside[0]!, before)] : [];
  const tail = after > 1e-6 ? [beyond(inside.at(-2)!, inside.at(-1)!, after)] : [];
  return quantisePoints([...head, ...inside, ...tail]);
}

/**
 * A sleeve for every crossing of paving: one each, as long as the paving is wide there and a length beyond it on both
 * sides, wide enough for the thickest pipe in it.
 */
export function sleevesFor(
  plan: Plan,
  catalog: Catalog,
  site: Site,
  pipes: readonly HeaderPipe[],
  idPrefix: string,
): Sleeve[] {
  const extraM = setting(plan.settings, 'sleeveBeyondM');
  const sleeves: Sleeve[] = [];
  for (const { path, pipe } of chainsOf(pipes)) {
    for (const span of spansAlong(site.paved, path)) {
      const along = sleevePath(path, span, extraM);
      const middle = pointAlong(path, (span.fromM + span.toM) / 2).at;
      sleeves.push({
        id: `${idPrefix}${sleeves.length + 1}`,
        path: along,
        lengthM: polylineLengthM(along),
        pipe: sleeveFor(catalog, pipe.pipe),
        under: pavingAt(site, middle),
        carries: 'pipe',
      });
    }
  }
  return sleeves;
}

/** Id of the paving a point lies under; empty where there is none. */
export function pavingAt(site: Site, at: PlanPoint): string {
  return site.paving.find(({ ground }) => pointInMultiPolygon(at, ground))?.id ?? '';
}

/** Every place where a pipe crosses a known buried utility. */
export function utilityCrossings(plan: Plan, pipes: readonly HeaderPipe[]): UtilityCrossing[] {
  const utilities = Object.values(plan.utilities).sort((a, b) => (a.id < b.id ? -1 : 1));
  const found: UtilityCrossing[] = [];
  for (const pipe of pipes) {
    const pipeBox = boxOf(pipe.path);
    for (const utility of utilities) {
      const box = boxOf(utility.path);
      if (!pipeBox || !box || !boxesTouch(pipeBox, box)) continue;
      for (const at of pathCrossings(pipe.path, utility.path)) {
        if (!found.some((other) => other.utilityId === utility.id && distanceM(other.at, at) < 0.01)) {
          found.push({ utilityId: utility.id, at, pipeId: pipe.id });
        }
      }
    }
  }
  return found;
}

function pathCrossings(one: Polyline, other: Polyline): PlanPoint[] {
  const found: PlanPoint[] = [];
  for (let i = 1; i < one.length; i++) {
    for (let j = 1; j < other.length; j++) {
      const at = segmentCrossing(one[i - 1]!, one[i]!, other[j - 1]!, other[j]!);
      if (at) found.push(quantisePoint(at));
    }
  }
  return found;
}

/** Point and heading a distance along a path, never past its ends. */
export function alongPath(path: Polyline, distanceAlongM: number): { at: PlanPoint; headingRad: number } {
  const { at, headingRad } = pointAlong(path, Math.min(distanceAlongM, polylineLengthM(path)));
  return { at: quantisePoint(at), headingRad };
}
