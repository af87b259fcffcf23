import { z } from 'zod';

const id = z.string();
const figure = z.number();
const lengthM = z.number().min(0);
const ratio = z.number();
const position = z.tuple([figure, figure]).describe('x east, y north, metres in the plane of the plan');
const path = z.array(position);

const problem = z.strictObject({
  rule: z.string().describe('permanent code'),
  severity: z.enum(['stop', 'warn', 'note']),
  where: z
    .strictObject({
      id: id.optional(),
      x: figure.optional(),
      y: figure.optional(),
      file: z.string().optional(),
      line: figure.optional(),
      column: figure.optional(),
      path: z.string().optional(),
    })
    .describe('plan item, plan point or place in a file'),
  message: z.string(),
  value: figure.nullable(),
  limit: figure.nullable(),
  unit: z.string().nullable(),
  source: z.string().nullable(),
});

const layout = z.enum(['loop', 'loop-centre-row', 'strip', 'laterals', 'contour']);
const coverage = z.strictObject({
  coveredFraction: ratio.describe('share of the usable ground within 0.55 of the row spacing as laid'),
  maxGapM: lengthM,
});

const run = z.strictObject({
  id,
  role: z.enum(['loop', 'centre-row', 'single-row', 'lateral', 'ring', 'connector', 'lead']),
  use: z.string().optional().describe('what a plain piece is for'),
  closed: z.boolean(),
  path: path.describe('arcs as points; closed: first = last'),
  lengthM,
  emitters: z.array(lengthM).describe('distances along the path'),
  startsAt: position,
  flushAt: lengthM.nullable().describe('distance along the path where the two flows meet or the run ends'),
  minBendRadiusM: lengthM.nullable().describe('null: no bend'),
  straightFraction: ratio.describe('what a jig can lay'),
});

const join = z.strictObject({
  x: figure,
  y: figure,
  runIds: z.array(id),
  fitting: z.enum(['tee', 'elbow', 'coupling', 'end-cap', 'flush-valve', 'stub-up-tee', 'splice']),
});

const alternative = z.strictObject({
  key: z.string(),
  layout,
  rowSpacingM: lengthM,
  stretchRatio: ratio,
  directionRad: figure,
  lengthM,
  turns: figure,
  rows: figure,
  fittings: figure,
  straightFraction: ratio,
  coverage,
});

const bed = z.strictObject({
  id,
  name: z.string(),
  mark: z.string(),
  status: z.enum(['routed', 'refused']),
  areaM2: lengthM,
  usableAreaM2: lengthM,
  usable: z.strictObject({
    type: z.literal('MultiPolygon'),
    coordinates: z.array(z.array(path)),
  }),
  dripline: z.strictObject({
    id,
    emitterFlowM3s: figure,
    emitterSpacingM: lengthM,
    insideDiameterM: lengthM,
    minBendRadiusM: lengthM,
  }),
  nominalRowSpacingM: lengthM,
  rowSpacingM: lengthM.describe('as laid'),
  layout,
  chosen: z.string().describe('key of the choice taken, as in alternatives'),
  alternatives: z.array(alternative),
  runs: z.array(run),
  joins: z.array(join).describe('the only places where tubing may meet'),
  coverage,
  applicationRateMs: figure.nullable().describe('solved flow over served area'),
  nominalApplicationRateMs: figure.describe('emitter flow over emitter spacing times row spacing'),
  ruleOfThumbLengthM: lengthM,
  runLimitM: lengthM.nullable(),
  zoneId: id.nullable(),
  problems: z.array(problem),
});

const spread = z.strictObject({ min: figure, mean: figure, max: figure, lowQuarterMean: figure });

const zone = z.strictObject({
  id,
  number: figure,
  bedIds: z.array(id),
  flowM3s: figure,
  assembly: z.strictObject({ id, class: z.enum(['low-flow', 'high-flow']), regulatedHeadM: figure }),
  pipes: z.array(
    z.strictObject({
      path,
      insideDiameterM: lengthM,
      flowM3s: figure,
      velocityMs: figure,
      headlossM: figure,
      role: z.enum(['main', 'header', 'sleeve']),
    }),
  ),
  emitterHeadM: spread,
  emitterFlowM3s: spread,
  worstEmitter: z.strictObject({ runId: id, distanceM: lengthM, x: figure, y: figure }),
  emissionUniformity: ratio,
  distributionUniformity: ratio,
  flush: z.array(z.strictObject({ flowM3s: figure, endVelocityMs: figure, at: position, runId: id })),
  requiredSourceHeadM: figure,
  availableSourceHeadM: figure,
  why: z.array(z.string()).describe('why these beds'),
});

const cycle = { cycles: figure, minutesPerCycle: figure, soakMinutes: figure };
const schedule = z.strictObject({
  referenceEtM: z.array(figure).describe('by month, January first'),
  zones: z.array(
    z.strictObject({
      zoneId: id,
      applicationRateMs: figure,
      governingBedId: id.describe('the bed that needs the valve open longest'),
      months: z.array(
        z.strictObject({
          month: figure,
          needM: figure,
          grossM: figure,
          appliedM: figure,
          minutesPerDay: figure,
          daysPerWeek: figure,
          ...cycle,
        }),
      ),
      establishment: z.array(
        z.strictObject({ week: figure, minutesPerDay: figure, daysPerWeek: figure, ...cycle }),
      ),
    }),
  ),
  timetable: z.array(
    z.strictObject({
      zoneId: id,
      month: figure,
      startMin: figure.describe('minutes after Sunday midnight'),
      minutes: figure,
    }),
  ),
});

const waterBudget = z.strictObject({
  regionKey: z.string(),
  regionSource: z.string(),
  annualEtM: figure,
  landscapeAreaM2: figure,
  specialAreaM2: figure,
  limitEtafRatio: ratio,
  averageEtafRatio: ratio,
  allowanceM3: figure,
  estimatedUseM3: figure,
  hydrozones: z.array(
    z.strictObject({
      zoneId: id,
      name: z.string(),
      plantFactor: ratio,
      irrigationEfficiency: ratio,
      areaM2: lengthM,
      etafRatio: ratio,
      etwuM3: figure,
      special: z.boolean(),
    }),
  ),
  savingAgainstSprayM3: figure,
});

/** The shape of design.json, a promise to whoever reads it: metres, m3/s, metres of head, m/s, seconds, radians. */
export const designSchema = z.strictObject({
  format: z.literal('rillsheet-design'),
  version: z.literal(1),
  planId: id,
  units: z.literal('SI'),
  beds: z.array(bed),
  zones: z.array(zone),
  findings: z.array(problem),
  takeoff: z.array(
    z.strictObject({
      part: id,
      description: z.string(),
      quantity: figure,
      unit: z.enum(['m', 'each', 'roll', 'stick', 'pack', 'can']),
      eachM: lengthM.nullable().describe('length of one roll or stick'),
      packs: z.strictObject({ count: figure, packOf: figure }).nullable(),
      from: z.array(id),
      price: figure.nullable().describe('of the whole line, in the currency of the price list'),
    }),
  ),
  rolls: z.array(z.strictObject({ number: figure, driplineId: id, lengthM, leftM: figure })),
  labour: z.array(
    z.strictObject({ task: z.string(), hours: figure, quantity: figure, unit: z.string(), rate: figure }),
  ),
  cost: figure.nullable(),
  cuts: z.array(
    z.strictObject({
      rollNumber: figure,
      rollLengthM: lengthM,
      driplineId: id,
      runId: id,
      fromM: lengthM,
      toM: lengthM,
      lengthM,
      spliceAtEnd: z.boolean(),
    }),
  ),
  schedule,
  waterBudget,
});
