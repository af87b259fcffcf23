import type { Design } from '../design';
import { type Box, boxHolds, distanceM, type PlanPoint } from '../geometry';
import { drawingWords as words } from '../words';
import { compassName, headingBetween } from './bearings';
import { devicesOf } from './devices';
import { bedCorners } from './figures';
import { structureRings } from './ground';
import { deviceNames, flushMark } from './names';

/** A point that stays where it is while the crew works: a tape can be held to it. */
export interface FixedPoint {
  readonly mark: string;
  readonly at: PlanPoint;
  readonly what: string;
}

/** A point to be found with two tapes. */
export interface Tie {
  readonly what: string;
  readonly at: PlanPoint;
  readonly firstM: number;
  readonly secondM: number;
}

/** The two fixed points of a plan, and every point tied to them. */
export interface Ties {
  readonly fixed: readonly [FixedPoint, FixedPoint] | null;
  readonly ties: readonly Tie[];
}

interface Candidate {
  readonly at: PlanPoint;
  readonly what: string;
  /** 0 a building's corner, 1 paving, 2 anything else that stands. */
  readonly rank: number;
}

const ringMiddle = (ring: readonly PlanPoint[]): PlanPoint => ({
  x: ring.reduce((sum, p) => sum + p.x, 0) / ring.length,
  y: ring.reduce((sum, p) => sum + p.y, 0) / ring.length,
});

/** Standing points within the ground that the plan pages show. */
function candidates(design: Design, shown: Box): readonly Candidate[] {
  const { plan } = design;
  const corners = (kind: 'building' | 'paving', rank: number): Candidate[] =>
    Object.values(plan.structures)
      .filter((s) => s.kind === kind && s.shape.kind === 'area')
      .flatMap((s) => {
        const ring = structureRings(s)[0] ?? [];
        return ring.length > 14
          ? []
          : ring.map((at) => ({
              at,
              rank,
              what: words.cornerOf(
                compassName(plan, headingBetween(ringMiddle(ring), at)),
                s.name || words.structures[kind],
              ),
            }));
      });
  const points = <T extends { at: PlanPoint; name: string }>(
    map: Record<string, T>,
    name: string,
  ): Candidate[] => Object.values(map).map((item) => ({ at: item.at, rank: 2, what: item.name || name }));
  const found = [
    ...corners('building', 0),
    ...corners('paving', 1),
    ...points(plan.sources, words.devices.connection),
    ...points(plan.trees, words.legend.tree),
    ...points(plan.controllers, words.devices.controller),
  ];
  const beds = design.beds.flatMap((bed) =>
    bedCorners(bed).map((at, i) => ({ at, rank: 3, what: words.bedCorner(bed.name, i + 1) })),
  );
  const near = found.filter((f) => boxHolds(shown, f.at));
  return (near.length >= 2 ? near : [...near, ...beds]).slice(0, 60);
}

/** How well two tapes from two points cross at a third: the sine of their angle. */
function crossing(a: PlanPoint, b: PlanPoint, at: PlanPoint): number {
  const [ax, ay, bx, by] = [a.x - at.x, a.y - at.y, b.x - at.x, b.y - at.y];
  const lengths = Math.hypot(ax, ay) * Math.hypot(bx, by);
  return lengths === 0 ? 0 : Math.abs(ax * by - ay * bx) / lengths;
}

/** Points of the design that a crew must find on the ground. */
export function tiedPoints(design: Design): readonly { readonly what: string; readonly at: PlanPoint }[] {
  const { supply } = design;
  const names = deviceNames(design);
  return [
    ...design.beds.flatMap((bed) => [
      ...bedCorners(bed).map((at, i) => ({ what: words.bedCorner(bed.name, i + 1), at })),
      ...(bed.layout.status === 'routed' ? [{ what: words.stubUpOf(bed.name), at: bed.layout.stubUp }] : []),
    ]),
    ...supply.zones.flatMap((zone) => [
      { what: words.valveOf(zone.number), at: zone.assemblyAt },
      ...zone.flush.map((flush) => {
        const bed = design.beds.find((b) => b.layout.runs.some((run) => run.id === flush.runId));
        return { what: words.flushOf(bed?.name ?? '', flushMark(design, flush.runId)), at: flush.at };
      }),
    ]),
    ...[...supply.sleeves, ...supply.zones.flatMap((z) => z.sleeves)]
      .filter((s, i, all) => all.findIndex((o) => o.id === s.id) === i)
      .flatMap((sleeve, i) =>
        sleeve.path.length < 2
          ? []
          : [
              { what: words.sleeveEnd(i + 1, 1), at: sleeve.path[0]! },
              { what: words.sleeveEnd(i + 1, 2), at: sleeve.path[sleeve.path.length - 1]! },
            ],
      ),
    ...devicesOf(supply)
      .filter(
        (d) =>
          d.kind === 'connection' ||
          d.kind === 'backflow' ||
          d.kind === 'air-relief' ||
          d.kind === 'drain-point',
      )
      .map((d) => ({ what: names[d.id] ?? words.devices[d.kind], at: d.at })),
  ];
}

/**
 * Ties by two tapes: the pair of fixed points whose tapes cross best at all points together (the mean sine of the
 * crossing angle, corners of buildings preferred to paving, paving to the rest), then both distances of every point.
 *
 * @param shown the ground that the plan pages show; only points on it are used
 */
export function tiesOf(design: Design, shown: Box): Ties {
  const points = tiedPoints(design);
  const fixed = candidates(design, shown);
  let best: { a: Candidate; b: Candidate; score: number } | null = null;
  for (let i = 0; i < fixed.length; i++) {
    for (let j = i + 1; j < fixed.length; j++) {
      const [a, b] = [fixed[i]!, fixed[j]!];
      if (distanceM(a.at, b.at) < 1.5) continue;
      const mean =
        points.reduce((sum, p) => sum + crossing(a.at, b.at, p.at), 0) / Math.max(1, points.length);
      const score = mean - 0.12 * (a.rank + b.rank);
      if (!best || score > best.score + 1e-9) best = { a, b, score };
    }
  }
  if (!best) return { fixed: null, ties: [] };
  const { a, b } = best;
  return {
    fixed: [
      { mark: 'F1', at: a.at, what: a.what },
      { mark: 'F2', at: b.at, what: b.what },
    ],
    ties: points.map((p) => ({ ...p, firstM: distanceM(a.at, p.at), secondM: distanceM(b.at, p.at) })),
  };
}
