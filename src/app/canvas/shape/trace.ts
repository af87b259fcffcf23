import type { Polyline, Ring } from '../../../core/geometry';

/** Rings as one path in plan metres. */
export function traceRings(rings: readonly Ring[]): Path2D {
  const path = new Path2D();
  for (const ring of rings) {
    addChain(path, ring);
    path.closePath();
  }
  return path;
}

/** Open chains as one path in plan metres. */
export function traceChains(chains: readonly Polyline[]): Path2D {
  const path = new Path2D();
  for (const chain of chains) addChain(path, chain);
  return path;
}

function addChain(path: Path2D, chain: Polyline): void {
  chain.forEach((point, index) => {
    if (index === 0) path.moveTo(point.x, point.y);
    else path.lineTo(point.x, point.y);
  });
}

const traced = new WeakMap<readonly Ring[], Path2D>();

/** The path of rings, made once for as long as the rings live. */
export function pathOfRings(rings: readonly Ring[]): Path2D {
  const known = traced.get(rings);
  if (known) return known;
  const path = traceRings(rings);
  traced.set(rings, path);
  return path;
}
