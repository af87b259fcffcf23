import type { BedLayout, LayoutInput, Run } from '../../../src/core/layout';

const INK_OF: Readonly<Record<Run['role'], string>> = {
  loop: '#1d5fa8',
  'centre-row': '#0b8f6a',
  'single-row': '#1d5fa8',
  lateral: '#1d5fa8',
  ring: '#8a4fb0',
  connector: '#333333',
  lead: '#333333',
};
const FEET_PER_M = 1 / 0.3048;

/** One bed with its tubing as SVG: outline, usable ground, runs, fittings, dry spots, and a line of figures. */
export function bedPicture(input: LayoutInput, parts: readonly BedLayout[], widthPx = 900): string {
  const points = input.rings.flatMap((ring) => ring.points);
  const minX = Math.min(...points.map((p) => p.x));
  const maxX = Math.max(...points.map((p) => p.x));
  const minY = Math.min(...points.map((p) => p.y));
  const maxY = Math.max(...points.map((p) => p.y));
  const marginM = 0.3;
  const spanX = maxX - minX + 2 * marginM;
  const spanY = maxY - minY + 2 * marginM;
  const scale = Math.min(widthPx / spanX, widthPx / spanY);
  const at = (p: { x: number; y: number }): string =>
    `${((p.x - minX + marginM) * scale).toFixed(2)} ${((maxY + marginM - p.y) * scale + 34).toFixed(2)}`;
  const chain = (path: readonly { x: number; y: number }[]): string => path.map(at).join(' L ');
  const ring = (path: readonly { x: number; y: number }[]): string => `M ${chain(path)} Z`;
  const ground = parts.flatMap((part) =>
    part.usable.map((piece) => [piece.outer, ...piece.holes].map(ring).join(' ')),
  );
  const runs = parts.flatMap((part) =>
    part.runs.map(
      (run) =>
        `<path d="M ${chain(run.path)}" fill="none" stroke="${INK_OF[run.role]}" stroke-width="${run.role === 'connector' ? 2.4 : 1.4}"${run.role === 'lead' ? ' stroke-dasharray="4 3"' : ''}/>`,
    ),
  );
  const dot = (p: { x: number; y: number }, r: number, ink: string, fill = 'none'): string => {
    const [x, y] = at(p).split(' ');
    return `<circle cx="${x}" cy="${y}" r="${r}" stroke="${ink}" fill="${fill}"/>`;
  };
  const joins = parts.flatMap((part) =>
    part.joins.map((join) =>
      dot(
        join,
        join.fitting === 'flush-valve' ? 4 : 3,
        join.fitting === 'flush-valve' ? '#c05a00' : '#b00020',
      ),
    ),
  );
  const gaps = parts.flatMap((part) => part.coverage.gaps.map((gap) => dot(gap, 2, 'none', '#f29b30')));
  const stubUps = parts
    .filter((part) => part.status === 'routed')
    .map((part) => dot(part.stubUp, 6, '#d00000'));
  const obstacles = input.obstacles.map(
    (obstacle) => `<path d="${ring(obstacle.outline)}" fill="#d8cfc0" stroke="#555"/>`,
  );
  const outline = `<path d="${input.rings.map((r) => ring(r.points)).join(' ')}" fill="#f6ead8" fill-rule="evenodd" stroke="#444"/>`;
  const heightPx = Math.ceil(spanY * scale + 34);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${Math.ceil(spanX * scale)}" height="${heightPx}" font-family="sans-serif" font-size="12">`,
    `<rect width="100%" height="100%" fill="#fff"/>`,
    `<text x="6" y="14">${parts.map(figuresLine).join(' | ')}</text>`,
    `<text x="6" y="29">${parts.flatMap((part) => part.alternatives.map((other) => `${other.key} ${(other.lengthM * FEET_PER_M).toFixed(0)} ft`)).join(', ')}</text>`,
    outline,
    ...ground.map((d) => `<path d="${d}" fill="#e2f0da" fill-rule="evenodd"/>`),
    ...obstacles,
    ...runs,
    ...gaps,
    ...joins,
    ...stubUps,
    '</svg>',
  ].join('\n');
}

function figuresLine(part: BedLayout): string {
  if (part.status === 'refused')
    return `${part.bedId} refused: ${part.problems.map((p) => p.code).join(' ')}`;
  const wet = part.runs.filter((run) => run.role !== 'lead' && run.role !== 'connector');
  const lengthM = wet.reduce((sum, run) => sum + run.lengthM, 0);
  const turns = wet.reduce((sum, run) => sum + run.turns, 0);
  return `${part.bedId} ${part.chosen} ${(lengthM * FEET_PER_M).toFixed(0)} ft, ${turns} turns, covered ${(part.coverage.coveredRatio * 100).toFixed(2)} %, gap ${(part.coverage.maxGapM / part.nominalRowSpacingM).toFixed(2)} S`;
}
