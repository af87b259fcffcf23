/** Least, mean and greatest of a set, and the mean of its lowest quarter. */
export interface FlowSpread {
  readonly min: number;
  readonly mean: number;
  readonly max: number;
  readonly lowQuarterMean: number;
}

/**
 * The spread of a set of figures. A quarter that is not a whole number of emitters counts the last one by its share
 * (other authors round the quarter up or down). Empty: all zero.
 */
export function spreadOf(values: ArrayLike<number>): FlowSpread {
  const count = values.length;
  if (count === 0) return { min: 0, mean: 0, max: 0, lowQuarterMean: 0 };
  const sorted = Float64Array.from(values).sort();
  const quarter = count / 4;
  const whole = Math.floor(quarter);
  let low = 0;
  for (let i = 0; i < whole; i++) low += sorted[i]!;
  low += (quarter - whole) * sorted[whole]!;
  let sum = 0;
  for (const value of sorted) sum += value;
  return { min: sorted[0]!, mean: sum / count, max: sorted[count - 1]!, lowQuarterMean: low / quarter };
}

/**
 * Emission uniformity as designed, EU = (1 - 1.27 v / sqrt(e)) qmin / qmean, as a ratio; 0 where nothing flows.
 *
 * @param flowsM3s solved flow of each emitter, without manufacturing variation
 * @param variationCv coefficient of variation of the emitters as made
 * @param emittersPerPlant emitters that share one plant, >= 1
 * Source: Keller and Karmeli (1974).
 */
export function emissionUniformity(
  flowsM3s: ArrayLike<number>,
  variationCv: number,
  emittersPerPlant = 1,
): number {
  const { min, mean } = spreadOf(flowsM3s);
  if (mean <= 0) return 0;
  return Math.max(0, (1 - (1.27 * variationCv) / Math.sqrt(emittersPerPlant)) * (min / mean));
}

/** Low-quarter distribution uniformity: mean of the lowest quarter over the mean of all, as a ratio. Source: USDA low-quarter rule. */
export function distributionUniformity(flowsM3s: ArrayLike<number>): number {
  const { mean, lowQuarterMean } = spreadOf(flowsM3s);
  return mean > 0 ? lowQuarterMean / mean : 0;
}

/** Standard deviation over mean, with n - 1; 0 for fewer than two figures or no mean. */
export function coefficientOfVariation(values: ArrayLike<number>): number {
  const { mean } = spreadOf(values);
  if (values.length < 2 || mean === 0) return 0;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i]! - mean) ** 2;
  return Math.sqrt(squares / (values.length - 1)) / mean;
}

/**
 * Statistical uniformity, Us = 1 - sqrt(v^2 + Vq^2), as a ratio, with Vq the variation of the solved flows.
 * With v = 0 it is the figure of measured flows. Source: Wu and Gitlin; Bralts (independent parts add as squares).
 */
export function statisticalUniformity(flowsM3s: ArrayLike<number>, variationCv = 0): number {
  return Math.max(0, 1 - Math.hypot(variationCv, coefficientOfVariation(flowsM3s)));
}

/** Flow variation of a lateral or zone, (qmax - qmin) / qmax, as a ratio. Source: common practice, at most 0.10 wanted. */
export function flowVariation(flowsM3s: ArrayLike<number>): number {
  const { min, max } = spreadOf(flowsM3s);
  return max > 0 ? (max - min) / max : 0;
}

/** Random numbers from 0 up to 1, the same for the same seed. Source: the mulberry32 generator, public domain. */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** What many makings of the same zone came to: the mean and the 5 % and 95 % points, in the unit of the figure. */
export interface TrialFigure {
  readonly mean: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Uniformity by trial: each emitter's solved flow is multiplied by a factor drawn about 1 with the emitters' variation,
 * again and again. A check on the formulas, which treat the two variations as independent.
 *
 * @param random from `seededRandom`; factors are normal, held within three deviations
 */
export function uniformityByTrial(
  flowsM3s: ArrayLike<number>,
  variationCv: number,
  random: () => number,
  trials = 200,
): { readonly distributionUniformity: TrialFigure; readonly statisticalUniformity: TrialFigure } {
  const made = new Float64Array(flowsM3s.length);
  const low: number[] = [];
  const statistical: number[] = [];
  for (let trial = 0; trial < trials; trial++) {
    for (let i = 0; i < made.length; i++) made[i] = flowsM3s[i]! * (1 + variationCv * standardNormal(random));
    low.push(distributionUniformity(made));
    statistical.push(statisticalUniformity(made));
  }
  return { distributionUniformity: trialFigureOf(low), statisticalUniformity: trialFigureOf(statistical) };
}

/** A standard normal number within three deviations. Source: Box and Muller (1958). */
export function standardNormal(random: () => number): number {
  for (;;) {
    const value = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    if (Math.abs(value) <= 3) return value;
  }
}

/** Mean and the 5 % and 95 % points of the figures of many trials. */
export function trialFigureOf(values: readonly number[]): TrialFigure {
  const sorted = Float64Array.from(values).sort();
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
  return { mean: spreadOf(sorted).mean, low: at(0.05), high: at(0.95) };
}
