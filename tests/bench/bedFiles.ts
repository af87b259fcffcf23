import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BedRing, EdgeClass, LayoutInput } from '../../src/core/layout';

const INCH_M = 0.0254;

interface BedFeature {
  readonly id: string;
  readonly properties: {
    readonly kind: string;
    readonly rowSpacingM: number;
    readonly rowStretchRatio?: number;
    readonly rowDirectionDeg?: number;
    readonly offsetsM: Readonly<Record<string, number>>;
    readonly maxRunM?: number;
    readonly bendRadiusM?: number;
    readonly stubUp?: readonly [number, number];
    readonly edges: readonly (readonly EdgeClass[])[];
  };
  readonly geometry: { readonly coordinates: readonly (readonly (readonly [number, number])[])[] };
}

/** One bed file as the router's input, with its own name. Read here by hand so that the router is tried without the plan. */
export interface BedFile {
  readonly name: string;
  readonly input: LayoutInput;
}

/** All bed files of a folder, by name. */
export function readBedFiles(folder: string): BedFile[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.geojson'))
    .sort()
    .map((file) => readBedFile(join(folder, file)));
}

/** One bed file. Only what these files hold is read. */
export function readBedFile(file: string): BedFile {
  const collection = JSON.parse(readFileSync(file, 'utf8')) as { features: BedFeature[] };
  const feature = collection.features.find((candidate) => candidate.properties.kind === 'bed')!;
  return { name: feature.id, input: inputOf(feature) };
}

function inputOf(feature: BedFeature): LayoutInput {
  const { properties } = feature;
  const rings: BedRing[] = feature.geometry.coordinates.map((ring, index) => {
    const points = ring.slice(0, -1).map(([x, y]) => ({ x, y }));
    const edges = points.map((_, edge) => {
      const edgeClass = properties.edges[index]?.[edge] ?? 'open';
      return { class: edgeClass, offsetM: properties.offsetsM[edgeClass] ?? 3 * INCH_M };
    });
    return { points, edges };
  });
  return {
    ...plainInput(feature.id, rings),
    rowSpacingM: properties.rowSpacingM,
    rowStretchRatio: properties.rowStretchRatio ?? 0,
    rowDirectionRad:
      properties.rowDirectionDeg === undefined ? null : (properties.rowDirectionDeg * Math.PI) / 180,
    bendRadiusM: properties.bendRadiusM ?? 5 * INCH_M,
    maxRunM: properties.maxRunM ?? null,
    stubUp: properties.stubUp ? { x: properties.stubUp[0], y: properties.stubUp[1] } : null,
    stubUpMovable: properties.stubUp === undefined,
  };
}

/** A bed with 18 in rows, 12 in emitters and nothing else asked for. */
export function plainInput(bedId: string, rings: readonly BedRing[]): LayoutInput {
  return {
    bedId,
    rings,
    obstacles: [],
    trees: [],
    treeRings: false,
    spurPlants: [],
    rowSpacingM: 18 * INCH_M,
    rowStretchRatio: 0,
    rowDirectionRad: null,
    slope: null,
    bendRadiusM: 5 * INCH_M,
    maxRunM: null,
    stubUp: null,
    stubUpMovable: true,
    layout: null,
    chosenAlternative: null,
    emitterSpacingM: 12 * INCH_M,
    wettedDiameterM: 20 * INCH_M,
    staggered: false,
    locked: null,
    quality: 'finished',
    previous: null,
    turnWeightM: 1,
  };
}
