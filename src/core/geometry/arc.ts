import { angleOfCosine, cosOf, headingOf, sinOf } from './steady';
import { CHORD_TOLERANCE_M } from './tolerance';
import type { PlanPoint } from './types';
import { distanceM } from './vector';

/** Radius of the arc over a chord, metres: r = chord^2 / (8 h) + h / 2. Infinite where the sagitta is 0. */
export function arcRadiusM(chordM: number, sagittaM: number): number {
  const height = Math.abs(sagittaM);
  return height === 0 ? Number.POSITIVE_INFINITY : (chordM * chordM) / (8 * height) + height / 2;
}

/**
 * Points of the arc from `a` to `b`, both included, whose height over the chord is `sagittaM`:
 * positive bulges to the right of the way from a to b, 0 is straight. Chords stray at most `chordToleranceM`.
 */
export function arcPoints(
  a: PlanPoint,
  b: PlanPoint,
  sagittaM: number,
  chordToleranceM: number = CHORD_TOLERANCE_M,
): PlanPoint[] {
  const chordM = distanceM(a, b);
  if (chordM === 0 || Math.abs(sagittaM) <= chordToleranceM) return [a, b];
  const radiusM = arcRadiusM(chordM, sagittaM);
  const sweepRad = 4 * headingOf(2 * Math.abs(sagittaM), chordM);
  const stepRad = 2 * angleOfCosine(Math.max(0, 1 - chordToleranceM / radiusM));
  const steps = Math.max(2, Math.ceil(sweepRad / stepRad));
  const right = { x: (b.y - a.y) / chordM, y: -(b.x - a.x) / chordM };
  const outM = Math.sign(sagittaM) * (Math.abs(sagittaM) - radiusM);
  const centre = { x: (a.x + b.x) / 2 + right.x * outM, y: (a.y + b.y) / 2 + right.y * outM };
  const startRad = headingOf(a.y - centre.y, a.x - centre.x);
  const turn = Math.sign(sagittaM);
  const points: PlanPoint[] = [a];
  for (let step = 1; step < steps; step++) {
    const angleRad = startRad + (turn * sweepRad * step) / steps;
    points.push({ x: centre.x + radiusM * cosOf(angleRad), y: centre.y + radiusM * sinOf(angleRad) });
  }
  points.push(b);
  return points;
}

/** Points of a circle, anticlockwise, first not repeated; chords stray at most `chordToleranceM` inside it. */
export function circlePoints(
  centre: PlanPoint,
  radiusM: number,
  chordToleranceM: number = CHORD_TOLERANCE_M,
): PlanPoint[] {
  const stepRad = 2 * angleOfCosine(Math.max(0, 1 - Math.min(chordToleranceM, radiusM) / radiusM));
  const steps = Math.max(8, Math.ceil((2 * Math.PI) / stepRad));
  return Array.from({ length: steps }, (_, step) => {
    const angleRad = (2 * Math.PI * step) / steps;
    return { x: centre.x + radiusM * cosOf(angleRad), y: centre.y + radiusM * sinOf(angleRad) };
  });
}
