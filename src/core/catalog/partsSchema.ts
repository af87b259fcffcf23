import { z } from 'zod';

/** Most parts one file may hold; a hand-written list is far shorter. */
export const MOST_PARTS = 5000;
const MOST_POINTS = 100;

const id = z
  .string()
  .min(1)
  .max(100)
  .refine((text) => text !== '__proto__', { error: 'not an id' });
const name = z.string().min(1).max(300);
const words = z.string().max(300);
const lengthM = z.number().min(0).max(1e4);
const boreM = z.number().positive().max(2);
const headM = z.number().min(0).max(1000);
const flowM3s = z.number().min(0).max(1);
const ratio = z.number().min(0).max(10);

const order = z.strictObject({
  partNumber: words.optional(),
  size: words.optional(),
  thread: words.optional(),
  price: z.number().min(0).max(1e7).optional(),
});
/** What every part has. Where the file names no source, the part is the user's own. */
const part = {
  id,
  name,
  source: z
    .strictObject({
      text: words,
      standing: z.enum(['published', 'from memory', 'common practice', 'ours', 'typical', 'user']),
    })
    .optional(),
  order: order.optional(),
};

const lossCurve = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('quadratic'), kSI: z.number().min(0), offsetM: headM }),
  z.strictObject({
    kind: z.literal('points'),
    points: z
      .array(z.strictObject({ flowM3s, headM }))
      .min(1)
      .max(MOST_POINTS)
      .refine((points) => points.every((point, i) => i === 0 || point.flowM3s > points[i - 1]!.flowM3s), {
        error: 'flows must rise from point to point',
      }),
  }),
]);

const emitterRange = {
  nominalFlowM3s: flowM3s.positive(),
  variationCv: z.number().min(0).max(1),
  minHeadM: headM,
  maxHeadM: headM,
  openHeadM: headM.optional(),
};
const emitterLaw = z
  .discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('power'),
      ...emitterRange,
      nominalHeadM: headM.positive(),
      exponent: z.number().min(0).max(1.5),
    }),
    z.strictObject({
      kind: z.literal('compensating'),
      ...emitterRange,
      thresholdHeadM: headM.positive(),
      belowExponent: z.number().positive().max(1.5),
      plateauSlopePerM: z.number().min(-0.05).max(0.05),
    }),
  ])
  .refine((law) => law.maxHeadM > law.minHeadM, { error: 'maxHeadM must be above minHeadM' });

/** Shape of one part in a parts file, by kind. SI units, names as in the catalogue. */
export const partSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('dripline'),
    ...part,
    emitterFlowM3s: flowM3s.positive(),
    emitterSpacingM: z.number().positive().max(10),
    insideDiameterM: boreM,
    outsideDiameterM: boreM,
    minBendRadiusM: lengthM,
    emitter: emitterLaw,
    emitterLossK: ratio,
    absoluteRoughnessM: z.number().min(0).max(0.01),
    rollLengthsM: z.array(z.number().positive().max(1e4)).min(1).max(20),
    checkValve: z.boolean(),
    flushVelocityMs: z.number().min(0).max(10),
  }),
  z.strictObject({
    kind: z.literal('pipe'),
    ...part,
    material: z.enum(['pvc-sch40', 'pvc-class200', 'pe', 'blank-tubing', 'sleeve', 'copper']),
    nominal: words,
    insideDiameterM: boreM,
    outsideDiameterM: boreM,
    hazenWilliamsC: z.number().min(20).max(200),
    absoluteRoughnessM: z.number().min(0).max(0.01),
    stickLengthM: z.number().positive().max(1e4),
    maxHeadM: headM.positive(),
    friction: z.enum(['darcy-weisbach', 'hazen-williams']),
  }),
  z
    .strictObject({
      kind: z.literal('assembly'),
      ...part,
      class: z.enum(['low-flow', 'high-flow']),
      minFlowM3s: flowM3s,
      maxFlowM3s: flowM3s.positive(),
      regulatedHeadM: headM.positive(),
      regulatorMinInletHeadM: headM,
      regulatorDroop: z.number().min(0).max(1e7),
      valveLoss: lossCurve,
      filterLossClean: lossCurve,
      filterLossLoaded: lossCurve,
      filterMesh: z.number().positive().max(1000),
      connection: words,
      box: words,
      maxHeadM: headM.positive().optional(),
    })
    .refine((assembly) => assembly.maxFlowM3s > assembly.minFlowM3s, {
      error: 'maxFlowM3s must be above minFlowM3s',
    }),
  z.strictObject({
    kind: z.literal('meter'),
    ...part,
    sizeM: boreM,
    maxContinuousFlowM3s: flowM3s.positive(),
    loss: lossCurve,
    maxHeadM: headM.positive().optional(),
  }),
  z.strictObject({
    kind: z.literal('backflow'),
    ...part,
    type: z.enum([
      'pressure-vacuum-breaker',
      'reduced-pressure',
      'double-check',
      'atmospheric-vacuum-breaker',
      'air-gap',
    ]),
    sizeM: boreM,
    loss: lossCurve,
    minHeightAboveHighestOutletM: lengthM.nullable(),
    maxHeadM: headM.positive().optional(),
  }),
  z.strictObject({
    kind: z.literal('fitting'),
    ...part,
    use: words.min(1),
    lossK: z.number().min(0).max(1000),
    packOf: z.int().min(1).max(100_000),
  }),
]);

/** A parts file in JSON. */
export const partsFileSchema = z.strictObject({
  format: z.literal('rillsheet-parts'),
  version: z.literal(1),
  parts: z.array(partSchema).max(MOST_PARTS),
});
