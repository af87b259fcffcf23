import type { PathStep } from './types';

/** A cubic for each quarter turn or less of an elliptical arc given by its end points (SVG 1.1 appendix F.6.5, circles only). */
function arcSteps(
  from: readonly [number, number],
  radius: number,
  largeArc: boolean,
  clockwise: boolean,
  to: readonly [number, number],
): PathStep[] {
  const [dx, dy] = [(to[0] - from[0]) / 2, (to[1] - from[1]) / 2];
  const half = Math.hypot(dx, dy);
  if (half === 0) return [];
  const r = Math.max(radius, half);
  const rise = Math.sqrt(Math.max(0, r * r - half * half)) * (largeArc === clockwise ? -1 : 1);
  const centre = [from[0] + dx - (rise * dy) / half, from[1] + dy + (rise * dx) / half] as const;
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  let sweep = Math.atan2(to[1] - centre[1], to[0] - centre[0]) - start;
  if (clockwise && sweep < 0) sweep += 2 * Math.PI;
  if (!clockwise && sweep > 0) sweep -= 2 * Math.PI;
  return arcCubics(centre[0], centre[1], r, start, sweep);
}

/** Cubics along a circle from `startRad` through `sweepRad` (y down: positive turns clockwise on paper); within 0.03 % of the radius. */
export function arcCubics(
  x: number,
  y: number,
  radius: number,
  startRad: number,
  sweepRad: number,
): PathStep[] {
  const count = Math.max(1, Math.ceil(Math.abs(sweepRad) / (Math.PI / 2) - 1e-9));
  const step = sweepRad / count;
  const handle = (4 / 3) * Math.tan(step / 4) * radius;
  const steps: PathStep[] = [];
  for (let i = 0; i < count; i++) {
    const [a, b] = [startRad + i * step, startRad + (i + 1) * step];
    steps.push([
      'C',
      x + radius * Math.cos(a) - handle * Math.sin(a),
      y + radius * Math.sin(a) + handle * Math.cos(a),
      x + radius * Math.cos(b) + handle * Math.sin(b),
      y + radius * Math.sin(b) - handle * Math.cos(b),
      x + radius * Math.cos(b),
      y + radius * Math.sin(b),
    ]);
  }
  return steps;
}

const argumentsOf: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, C: 6, A: 7, Z: 0 };

/** Path steps of an SVG path text (commands M L H V C A Z, absolute or relative; circular arcs). Throws on any other command: symbols are ours. */
export function parseSvgPath(text: string): readonly PathStep[] {
  const tokens = text.match(/[a-zA-Z]|-?\d*\.?\d+(?:e-?\d+)?/g) ?? [];
  const steps: PathStep[] = [];
  let [x, y, startX, startY] = [0, 0, 0, 0];
  let command = '';
  for (let i = 0; i < tokens.length; ) {
    if (/[a-zA-Z]/.test(tokens[i] ?? '')) command = tokens[i++] ?? '';
    const upper = command.toUpperCase();
    const count = argumentsOf[upper];
    if (count === undefined) throw new Error(`unknown path command ${command} in ${text}`);
    const n = tokens.slice(i, i + count).map(Number);
    i += count;
    const relative = command !== upper;
    const atX = (k: number) => (n[k] ?? 0) + (relative ? x : 0);
    const atY = (k: number) => (n[k] ?? 0) + (relative ? y : 0);
    if (upper === 'Z') {
      steps.push(['Z']);
      [x, y] = [startX, startY];
      continue;
    }
    let end: readonly [number, number];
    if (upper === 'H') end = [atX(0), y];
    else if (upper === 'V') end = [x, atY(0)];
    else end = [atX(count - 2), atY(count - 1)];
    if (upper === 'M') steps.push(['M', ...end]);
    else if (upper === 'C') steps.push(['C', atX(0), atY(1), atX(2), atY(3), ...end]);
    else if (upper === 'A') steps.push(...arcSteps([x, y], n[0] ?? 0, n[3] === 1, n[4] === 1, end));
    else steps.push(['L', ...end]);
    [x, y] = end;
    if (upper === 'M') {
      [startX, startY] = end;
      command = relative ? 'l' : 'L';
    }
  }
  return steps;
}
