import { type Backflow, type Catalog, type Meter, setting, settingSource } from '../catalog';
import type { PlanPoint } from '../geometry';
import type { SupplyCurve } from '../hydraulics';
import type { Plan, WaterSource } from '../plan';
import type { Problem, Traced } from '../units';

/** What the source gives, on what evidence, and what its meter and service line allow. */
export interface SourceModel {
  readonly id: string | null;
  readonly at: PlanPoint | null;
  readonly elevationM: number | null;
  readonly basis: 'two-point' | 'static' | 'pump' | 'assumed';
  /** Pressure head at the connection against flow, at the year's lowest pressure. */
  readonly curve: SupplyCurve;
  /** Static head at the year's highest, for the burst check. */
  readonly highestStaticHeadM: number;
  /** Flow the zones may count on; null where nothing limits it that is known. */
  readonly usableFlowM3s: number | null;
  /** In the network only where no flow test was made: a test at the connection already holds their loss. */
  readonly meter: Meter | null;
  readonly service: { readonly lengthM: number; readonly insideDiameterM: number } | null;
  readonly problems: readonly Problem[];
  readonly traces: readonly Traced[];
}

/** Exponent of head lost against flow between two readings of one supply. Source: NFPA 291 (hydrant-test relation). */
const TWO_POINT_EXPONENT = 1.85;

/** The source the plan draws from: the first by id. */
export function sourceOf(plan: Plan): WaterSource | null {
  const ids = Object.keys(plan.sources).sort();
  return ids[0] === undefined ? null : (plan.sources[ids[0]] ?? null);
}

/**
 * Greatest static head at the connection in a year, m: the highest stated, the one read, or what a pump gives against
 * shut valves, whichever is most; null where none is known. The burst check is made at it.
 */
export function highestStaticHeadM(source: WaterSource | null): number | null {
  const known = [
    source?.highestStaticHeadM,
    source?.staticHeadM,
    ...(source?.pumpCurve ?? []).map(({ headM }) => headM),
  ].filter((headM) => headM !== null && headM !== undefined);
  return known.length === 0 ? null : Math.max(...known);
}

const problem = (
  code: string,
  severity: Problem['severity'],
  id: string | null,
  params: Problem['params'] = {},
): Problem => ({ code, severity, where: id === null ? {} : { id }, params });

interface Curve {
  readonly basis: SourceModel['basis'];
  readonly curve: SupplyCurve;
  readonly problems: readonly Problem[];
}

/** A pump, well or tank: its curve, never counted above the head at which the pump cuts in. */
function pumpCurve(source: WaterSource, points: NonNullable<WaterSource['pumpCurve']>): Curve {
  const cutIn = source.pumpCutInHeadM;
  const sorted = [...points].sort((a, b) => a.flowM3s - b.flowM3s);
  const capped = sorted.map(({ flowM3s, headM }) => ({
    flowM3s,
    headM: cutIn === null ? headM : Math.min(headM, cutIn),
  }));
  return {
    basis: 'pump',
    curve: { kind: 'points', points: capped },
    problems: cutIn === null ? [problem('supply.no-cut-in', 'note', source.id)] : [],
  };
}

function measuredCurve(source: WaterSource, lowestM: number): Curve {
  const { staticHeadM, flowTestM3s, flowTestHeadM, id } = source;
  const constant: SupplyCurve = { kind: 'constant', headM: lowestM };
  if (flowTestM3s === null || flowTestHeadM === null || flowTestM3s <= 0) {
    return {
      basis: 'static',
      curve: constant,
      problems: [problem('supply.no-flow-test', 'warn', id, { headM: lowestM })],
    };
  }
  const fallM = (staticHeadM ?? lowestM) - flowTestHeadM;
  const residualHeadM = lowestM - fallM;
  if (fallM <= 0 || residualHeadM <= 0) {
    return {
      basis: 'static',
      curve: constant,
      problems: [
        problem(fallM <= 0 ? 'supply.test-does-not-fall' : 'supply.test-below-nothing', 'warn', id, {
          staticHeadM: staticHeadM ?? lowestM,
          residualHeadM: flowTestHeadM,
          lowestHeadM: lowestM,
        }),
      ],
    };
  }
  return {
    basis: 'two-point',
    curve: {
      kind: 'two-point',
      staticHeadM: lowestM,
      residualHeadM,
      testFlowM3s: flowTestM3s,
      exponent: TWO_POINT_EXPONENT,
    },
    problems: [],
  };
}

function curveOf(plan: Plan, source: WaterSource | null): Curve {
  if (source?.pumpCurve && source.pumpCurve.length > 0) return pumpCurve(source, source.pumpCurve);
  const lowestM = source?.lowestStaticHeadM ?? source?.staticHeadM ?? null;
  if (source && lowestM !== null && lowestM > 0) {
    const measured = measuredCurve(source, lowestM);
    if (source.lowestStaticHeadM !== null) return measured;
    return {
      ...measured,
      problems: [
        ...measured.problems,
        problem('supply.lowest-not-known', 'note', source.id, { headM: lowestM }),
      ],
    };
  }
  const headM = setting(plan.settings, 'assumedStaticHeadM');
  return {
    basis: 'assumed',
    curve: { kind: 'constant', headM },
    problems: [
      problem(source ? 'supply.pressure-not-measured' : 'supply.no-source', 'warn', source?.id ?? null, {
        headM,
      }),
    ],
  };
}

/** The meter of the size drawn: the smallest of the catalogue not below it; null where no size is given. */
export function meterOf(source: WaterSource | null, catalog: Catalog): Meter | null {
  const sizeM = source?.meterSizeM ?? null;
  if (sizeM === null) return null;
  const bySize = [...catalog.meters].sort((a, b) => a.sizeM - b.sizeM);
  return bySize.find((meter) => meter.sizeM > sizeM - 5e-4) ?? bySize.at(-1) ?? null;
}

const boreFlowM3s = (insideDiameterM: number, velocityMs: number): number =>
  (Math.PI / 4) * insideDiameterM ** 2 * velocityMs;

/** Flow to plan on: the share of the tested flow, and never more than meter and service line allow. */
function usableFlow(
  plan: Plan,
  source: WaterSource | null,
  basis: Curve,
  meter: Meter | null,
): { usableFlowM3s: number | null; traces: Traced[] } {
  const share = setting(plan.settings, 'measuredFlowShareRatio');
  const limits: { name: string; flowM3s: number }[] = [];
  const testedM3s =
    basis.curve.kind === 'two-point'
      ? basis.curve.testFlowM3s
      : basis.curve.kind === 'points'
        ? (basis.curve.points.at(-1)?.flowM3s ?? 0)
        : (source?.flowTestM3s ?? null);
  if (testedM3s !== null && testedM3s > 0)
    limits.push({ name: 'measured flow x share', flowM3s: testedM3s * share });
  if (meter) limits.push({ name: 'meter, continuous', flowM3s: meter.maxContinuousFlowM3s });
  if (source?.serviceDiameterM) {
    const velocityMs = setting(plan.settings, 'serviceVelocityMs');
    limits.push({
      name: 'service line by velocity',
      flowM3s: boreFlowM3s(source.serviceDiameterM, velocityMs),
    });
  }
  if (limits.length === 0) return { usableFlowM3s: null, traces: [] };
  const usableFlowM3s = Math.min(...limits.map(({ flowM3s }) => flowM3s));
  const trace: Traced = {
    code: 'supply.usable-flow',
    result: { value: usableFlowM3s, unit: 'm3/s' },
    formula: 'usable = least of the limits',
    inputs: [
      ...limits.map(({ name, flowM3s }) => ({ name, quantity: { value: flowM3s, unit: 'm3/s' as const } })),
      { name: 'share', quantity: { value: share, unit: 'ratio' as const } },
    ],
    source: settingSource(plan.settings, 'measuredFlowShareRatio'),
  };
  return { usableFlowM3s, traces: [trace] };
}

/**
 * What the source gives at the year's lowest pressure: the two-point curve where static and a flow test were read, the
 * pump's curve where there is one, else the static head held to what meter and service allow, else the stated assumption.
 */
export function modelSource(plan: Plan, catalog: Catalog): SourceModel {
  const source = sourceOf(plan);
  const basis = curveOf(plan, source);
  const meter = meterOf(source, catalog);
  const { usableFlowM3s, traces } = usableFlow(plan, source, basis, meter);
  const untested = basis.basis === 'static' || basis.basis === 'assumed';
  const lowestM =
    basis.curve.kind === 'constant'
      ? basis.curve.headM
      : basis.curve.kind === 'two-point'
        ? basis.curve.staticHeadM
        : (basis.curve.points[0]?.headM ?? 0);
  const service =
    untested && source?.serviceDiameterM && source.serviceLengthM
      ? { lengthM: source.serviceLengthM, insideDiameterM: source.serviceDiameterM }
      : null;
  return {
    id: source?.id ?? null,
    at: source?.at ?? null,
    elevationM: source?.elevationM ?? null,
    basis: basis.basis,
    curve: basis.curve,
    highestStaticHeadM: Math.max(highestStaticHeadM(source) ?? lowestM, lowestM),
    usableFlowM3s,
    meter: untested ? meter : null,
    service,
    problems: basis.problems,
    traces,
  };
}

/** Velocity in a backflow preventer's own size at which the next size is taken, m/s (about 7.5 ft/s, from memory). */
const BACKFLOW_VELOCITY_MS = 2.286;

/**
 * The backflow preventer: the designer's, else a reduced pressure assembly of the size the flow asks for, because it costs
 * the most pressure of all; which type is allowed is the local code's to say.
 */
export function chooseBackflow(plan: Plan, catalog: Catalog, flowM3s: number): Backflow | null {
  const source = sourceOf(plan);
  const chosen = catalog.backflows.find(({ id }) => id === source?.backflowId) ?? null;
  if (chosen) return chosen;
  const bySize = catalog.backflows
    .filter(({ type }) => type === 'reduced-pressure')
    .sort((a, b) => a.sizeM - b.sizeM || (a.id < b.id ? -1 : 1));
  const fit = bySize.find(({ sizeM }) => boreFlowM3s(sizeM, BACKFLOW_VELOCITY_MS) >= flowM3s);
  return fit ?? bySize.at(-1) ?? null;
}
