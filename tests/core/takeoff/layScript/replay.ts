import type { PlanPoint } from '../../../../src/core/geometry';
import type { LayStep, RunScript } from '../../../../src/core/takeoff';

/** The ground a turtle walks when it is told nothing but the steps: each heading change, length and sweep in turn. */
export function walk(script: RunScript): { readonly points: PlanPoint[]; readonly ends: PlanPoint[] } {
  let { x, y } = script.begin;
  let heading = script.headingRad;
  const points: PlanPoint[] = [{ x, y }];
  const ends: PlanPoint[] = [];
  script.steps.forEach((step) => {
    if (step.kind === 'straight' || step.kind === 'turn' || step.kind === 'curve') {
      heading += step.bearRad;
      // A chord of a circle: length 2 r sin(sweep / 2), leaving half the sweep off the tangent.
      const parts = 24;
      const radius = step.sweepRad === 0 ? 0 : step.chordM / 2 / Math.sin(step.sweepRad / 2);
      for (let k = 0; k < parts; k++) {
        const part = step.sweepRad / parts;
        const chord = step.sweepRad === 0 ? step.chordM / parts : 2 * radius * Math.sin(part / 2);
        x += chord * Math.cos(heading + part / 2);
        y += chord * Math.sin(heading + part / 2);
        heading += part;
        points.push({ x, y });
      }
    }
    ends.push({ x, y });
  });
  return { points, ends };
}

const toSegment = (p: PlanPoint, a: PlanPoint, b: PlanPoint): number => {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const length2 = dx * dx + dy * dy;
  const t = length2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
};

/** Greatest distance of one path's points from another path, walked forward so that a neighbouring row cannot stand in. */
export function strayM(points: readonly PlanPoint[], path: readonly PlanPoint[]): number {
  let worst = 0;
  let from = 0;
  for (const p of points) {
    let best = Number.POSITIVE_INFINITY;
    let at = from;
    for (let i = from; i + 1 < path.length && i < from + 120; i++) {
      const away = toSegment(p, path[i]!, path[i + 1]!);
      if (away < best - 1e-12) {
        best = away;
        at = i;
      }
    }
    from = Math.max(from, at - 2);
    worst = Math.max(worst, best);
  }
  return worst;
}

/** Where two tapes cross, on the side that is told. */
export function crossTapes(
  first: PlanPoint,
  second: PlanPoint,
  tie: { readonly firstM: number; readonly secondM: number; readonly side: 'left' | 'right' },
): PlanPoint {
  const [dx, dy] = [second.x - first.x, second.y - first.y];
  const base = Math.hypot(dx, dy);
  const along = (base * base + tie.firstM * tie.firstM - tie.secondM * tie.secondM) / (2 * base);
  const out =
    Math.sqrt(Math.max(0, tie.firstM * tie.firstM - along * along)) * (tie.side === 'left' ? 1 : -1);
  return {
    x: first.x + (dx * along - dy * out) / base,
    y: first.y + (dy * along + dx * out) / base,
  };
}

export const isMove = (step: LayStep): boolean =>
  step.kind === 'straight' || step.kind === 'turn' || step.kind === 'curve';
