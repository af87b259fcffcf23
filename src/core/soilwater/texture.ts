import type { SoilClass } from '../plan';
import type { Outcome, Problem, Traced } from '../units';
import { SOURCES } from './sources';

/** Shares of sand, silt and clay by weight or by settled height, 0..1, adding up to 1. */
export interface Texture {
  readonly sandRatio: number;
  readonly siltRatio: number;
  readonly clayRatio: number;
}

/** Tenths of a percent: a class edge reached by arithmetic alone is that edge. */
const round = (ratio: number): number => Math.round(ratio * 1000) / 10;

/**
 * The USDA texture class of sand, silt and clay. Every mixture has exactly one.
 * Edges as in the survey manual: sand below silt + 1.5 clay = 15; loamy sand below silt + 2 clay = 30; and so on by percent.
 * Source: USDA Soil Survey Manual, texture triangle, from memory.
 */
export function textureClass(texture: Texture): SoilClass {
  const sand = round(texture.sandRatio);
  const clay = round(texture.clayRatio);
  const silt = 100 - sand - clay;
  if (silt + 1.5 * clay < 15) return 'sand';
  if (silt + 2 * clay < 30) return 'loamy-sand';
  if (clay >= 40) return silt >= 40 ? 'silty-clay' : sand > 45 ? 'sandy-clay' : 'clay';
  if (clay >= 35 && sand > 45) return 'sandy-clay';
  if (clay >= 27) return sand > 45 ? 'sandy-clay-loam' : sand > 20 ? 'clay-loam' : 'silty-clay-loam';
  if (clay >= 20 && silt < 28 && sand > 45) return 'sandy-clay-loam';
  if (silt >= 80 && clay < 12) return 'silt';
  if (silt >= 50) return 'silt-loam';
  if (clay >= 7 && sand <= 52 && silt >= 28) return 'loam';
  return 'sandy-loam';
}

/** Heights of the settled layers in a jar, from the bottom up, m (or any one unit). */
export interface JarTest {
  readonly sandM: number;
  readonly siltM: number;
  readonly clayM: number;
}

/** What a jar says, and the classes it could as well be. */
export interface JarResult {
  readonly texture: Texture;
  readonly soil: SoilClass;
  /** Other classes within the reading error of the layers, sorted. */
  readonly orElse: readonly SoilClass[];
  readonly traces: readonly Traced[];
}

/** How far a layer's share may be off: layers are read to about a twentieth of the jar. Ours, stated. */
const READING_ERROR_RATIO = 0.05;

function jarProblem(code: string, params: Problem['params']): Problem {
  return { code, severity: 'stop', where: {}, params };
}

/** The classes that the same jar gives when one twentieth of it is read into another layer. */
function nearbyClasses({ sandRatio, siltRatio, clayRatio }: Texture): readonly SoilClass[] {
  const shares = [sandRatio, siltRatio, clayRatio];
  const found = new Set<SoilClass>();
  for (const from of [0, 1, 2])
    for (const to of [0, 1, 2]) {
      const moved = Math.min(READING_ERROR_RATIO, shares[from] ?? 0);
      const next = shares.map((share, index) =>
        index === from && from !== to ? share - moved : index === to && from !== to ? share + moved : share,
      );
      found.add(textureClass({ sandRatio: next[0] ?? 0, siltRatio: next[1] ?? 0, clayRatio: next[2] ?? 0 }));
    }
  return [...found].sort();
}

/**
 * Reads a jar test: soil shaken with water and left to settle, sand in a minute, silt in hours, clay in a day or more.
 * Settled height stands for weight, which overstates clay a little (common practice).
 * Fails: a layer below zero or not a number, or an empty jar.
 */
export function readJarTest(jar: JarTest): Outcome<JarResult> {
  const layers = [jar.sandM, jar.siltM, jar.clayM];
  if (layers.some((layer) => !Number.isFinite(layer) || layer < 0))
    return { ok: false, problems: [jarProblem('soilwater.jar-layer-negative', {})] };
  const total = jar.sandM + jar.siltM + jar.clayM;
  if (total <= 0) return { ok: false, problems: [jarProblem('soilwater.jar-empty', {})] };
  const texture = {
    sandRatio: jar.sandM / total,
    siltRatio: jar.siltM / total,
    clayRatio: jar.clayM / total,
  };
  const soil = textureClass(texture);
  const orElse = nearbyClasses(texture).filter((found) => found !== soil);
  const share = (code: string, value: number, layerM: number): Traced => ({
    code,
    result: { value, unit: 'ratio' },
    formula: 'share = layer / whole settled height',
    inputs: [
      { name: 'layer', quantity: { value: layerM, unit: 'm' } },
      { name: 'whole settled height', quantity: { value: total, unit: 'm' } },
    ],
    source: SOURCES.practice,
  });
  const traces = [
    share('soilwater.sand-share', texture.sandRatio, jar.sandM),
    share('soilwater.silt-share', texture.siltRatio, jar.siltM),
    share('soilwater.clay-share', texture.clayRatio, jar.clayM),
  ];
  const problems: readonly Problem[] =
    orElse.length === 0
      ? []
      : [
          {
            code: 'soilwater.jar-near-edge',
            severity: 'note',
            where: {},
            params: { soil, orElse },
            source: SOURCES.textureTriangle,
          },
        ];
  return { ok: true, value: { texture, soil, orElse, traces }, problems };
}
