import {
  type CleanOutline,
  cleanOutline,
  type MultiPolygon,
  multiPolygonAreaM2,
  type Polygon,
  pointInPolygon,
  pointInRing,
  polygonAreaM2,
} from '../geometry';
import { usableArea } from './loop';
import { obstaclesBesideRings, ringedTrees } from './treeRings';
import type { LayoutInput } from './types';

/** One sound part of a bed with the ground in it that tubing may use. */
export interface BedPart {
  readonly id: string;
  readonly outline: Polygon;
  readonly areaM2: number;
  readonly usable: MultiPolygon;
  readonly usableAreaM2: number;
  /** Usable ground that can be reached without bending tighter than the tubing bears, largest piece first. */
  readonly routable: MultiPolygon;
  /** Trees in it that get a ring of tubing. */
  readonly trees: LayoutInput['trees'];
}

/** A bed's outline mended and cut into parts. A bow-tie gives two, `id/1` and `id/2`. */
export function bedParts(input: LayoutInput): { parts: BedPart[]; clean: CleanOutline } {
  const clean = cleanOutline(input.rings.map((ring) => ring.points));
  const area = usableArea(input.rings, input.obstacles, input.bendRadiusM);
  const trees = ringedTrees(input, area.usable);
  const routable =
    trees.length > 0
      ? usableArea(input.rings, obstaclesBesideRings(input, trees), input.bendRadiusM).routable
      : area.routable;
  const parts = clean.parts.map((outline, index) => {
    const usable = piecesOf(area.usable, outline);
    return {
      id: clean.parts.length > 1 ? `${input.bedId}/${index + 1}` : input.bedId,
      outline,
      areaM2: polygonAreaM2(outline),
      usable,
      usableAreaM2: multiPolygonAreaM2(usable),
      routable: largestFirst(piecesOf(routable, outline)),
      trees: trees.filter((tree) => pointInRing(tree.at, outline.outer)),
    };
  });
  return { parts, clean };
}

function piecesOf(ground: MultiPolygon, part: Polygon): MultiPolygon {
  return ground.filter((piece) => {
    const inside = piece.outer.filter((point) => pointInPolygon(point, part)).length;
    return inside * 2 > piece.outer.length;
  });
}

function largestFirst(pieces: MultiPolygon): MultiPolygon {
  return [...pieces].sort(
    (one, other) =>
      polygonAreaM2(other) - polygonAreaM2(one) ||
      one.outer[0]!.x - other.outer[0]!.x ||
      one.outer[0]!.y - other.outer[0]!.y,
  );
}
