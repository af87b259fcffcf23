import type { Ring } from '../geometry';

/** Where a level line lies on ground: pieces [from, to] along x, left to right. Rings may be outer rings and holes in any order. */
export function sectionsAt(rings: readonly Ring[], y: number): [number, number][] {
  const xs: number[] = [];
  for (const ring of rings) {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      if (a.y > y !== b.y > y) xs.push(a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y));
    });
  }
  xs.sort((one, other) => one - other);
  const pieces: [number, number][] = [];
  for (let k = 0; k + 1 < xs.length; k += 2) pieces.push([xs[k]!, xs[k + 1]!]);
  return pieces;
}
