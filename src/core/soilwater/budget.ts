import type { Plan } from '../plan';
import type { Problem, Traced } from '../units';
import { referenceEtFor } from './referenceEt';
import { ASSUMED_REGION_KEY, type BudgetRegion, budgetRegionFor } from './regions';
import { SOURCES } from './sources';
import type { Hydrozone, HydrozoneInput, WaterBudget } from './types';

/** Areas and factors that the two totals are made of. */
export interface BudgetFigures {
  readonly annualEtM: number;
  readonly region: BudgetRegion;
  readonly hydrozones: readonly HydrozoneInput[];
}

const total = <T>(rows: readonly T[], of: (row: T) => number): number =>
  rows.reduce((sum, row) => sum + of(row), 0);

/**
 * Water a year the ordinance allows, m3: ET0 x c x [ETAF x LA + (1 - ETAF) x SLA], LA with the special area inside it.
 * `c` is the printed constant over the exact one. Source: 23 CCR 492.4.
 */
export function allowanceM3(
  annualEtM: number,
  region: Pick<BudgetRegion, 'etafRatio' | 'constantRatio'>,
  landscapeAreaM2: number,
  specialAreaM2: number,
): number {
  const { etafRatio, constantRatio } = region;
  return annualEtM * constantRatio * (etafRatio * landscapeAreaM2 + (1 - etafRatio) * specialAreaM2);
}

/** Water a year one hydrozone is estimated to use, m3: ET0 x c x PF / IE x area; a special area counts with a factor of 1. */
export function estimateUse(
  line: HydrozoneInput,
  annualEtM: number,
  region: Pick<BudgetRegion, 'dripEfficiencyRatio' | 'constantRatio' | 'specialEtafRatio'>,
): Hydrozone {
  const irrigationEfficiency = line.irrigationEfficiency ?? region.dripEfficiencyRatio;
  const etafRatio = line.special ? region.specialEtafRatio : line.plantFactor / irrigationEfficiency;
  return {
    zoneId: line.zoneId,
    name: line.name,
    plantFactor: line.plantFactor,
    irrigationEfficiency,
    areaM2: line.areaM2,
    etafRatio,
    etwuM3: annualEtM * region.constantRatio * etafRatio * line.areaM2,
    special: line.special,
  };
}

/** The same regular areas under spray, m3 a year. Special areas are left as they are: their factor knows no method. */
function sprayUseM3(rows: readonly Hydrozone[], annualEtM: number, region: BudgetRegion): number {
  return total(rows, (row) =>
    row.special
      ? row.etwuM3
      : (annualEtM * region.constantRatio * row.plantFactor * row.areaM2) / region.sprayEfficiencyRatio,
  );
}

function findings(budget: Omit<WaterBudget, 'problems' | 'traces'>): readonly Problem[] {
  const found: Problem[] = [];
  if (!budget.averageHolds)
    found.push({
      code: 'soilwater.average-factor-over',
      severity: 'warn',
      where: {},
      params: {
        averageEtafRatio: budget.averageEtafRatio,
        limitEtafRatio: budget.limitEtafRatio,
        regionName: budget.regionName,
      },
      value: budget.averageEtafRatio,
      limit: budget.limitEtafRatio,
      unit: 'ratio',
      source: budget.regionSource,
    });
  if (!budget.allowanceHolds)
    found.push({
      code: 'soilwater.use-over-allowance',
      severity: 'warn',
      where: {},
      params: {
        estimatedUseM3: budget.estimatedUseM3,
        allowanceM3: budget.allowanceM3,
        regionName: budget.regionName,
      },
      value: budget.estimatedUseM3,
      limit: budget.allowanceM3,
      unit: 'm3',
      source: budget.regionSource,
    });
  return found;
}

function tracesOf(
  budget: Omit<WaterBudget, 'problems' | 'traces'>,
  constantRatio: number,
): readonly Traced[] {
  const et: Traced['inputs'][number] = {
    name: 'ET0',
    quantity: { value: budget.annualEtM, unit: 'm of water' },
  };
  const constant: Traced['inputs'][number] = {
    name: 'c',
    quantity: { value: constantRatio, unit: 'ratio' },
    from: constantRatio === 1 ? 'no printed constant' : '0.62 as printed over 0.623377',
  };
  return [
    {
      code: 'soilwater.allowance',
      result: { value: budget.allowanceM3, unit: 'm3' },
      formula: 'MAWA = ET0 x c x [ETAF x LA + (1 - ETAF) x SLA], LA with SLA inside it',
      inputs: [
        et,
        constant,
        { name: 'ETAF', quantity: { value: budget.limitEtafRatio, unit: 'ratio' } },
        { name: 'LA', quantity: { value: budget.landscapeAreaM2, unit: 'm2' } },
        { name: 'SLA', quantity: { value: budget.specialAreaM2, unit: 'm2' } },
      ],
      source: budget.regionSource,
    },
    ...budget.hydrozones.map(
      (row): Traced => ({
        code: 'soilwater.estimated-use',
        result: { value: row.etwuM3, unit: 'm3' },
        formula: row.special ? 'ETWU = ET0 x c x 1 x area (special)' : 'ETWU = ET0 x c x PF / IE x area',
        inputs: [
          et,
          constant,
          { name: 'PF', quantity: { value: row.plantFactor, unit: 'ratio' }, from: row.name },
          { name: 'IE', quantity: { value: row.irrigationEfficiency, unit: 'ratio' } },
          { name: 'area', quantity: { value: row.areaM2, unit: 'm2' } },
        ],
        source: budget.regionSource,
      }),
    ),
    {
      code: 'soilwater.saving-against-spray',
      result: { value: budget.savingAgainstSprayM3, unit: 'm3' },
      formula: 'saving = use of the same plants at spray efficiency - estimated use',
      inputs: [
        {
          name: 'spray efficiency',
          quantity: { value: budget.sprayEfficiencyRatio, unit: 'ratio' },
          from: SOURCES.ordinance.text,
        },
        { name: 'estimated use', quantity: { value: budget.estimatedUseM3, unit: 'm3' } },
      ],
      source: SOURCES.sprayComparison,
    },
  ];
}

/** The budget of given figures, without a plan: what the sheet prints. Areas >= 0. */
export function computeBudget({ annualEtM, region, hydrozones }: BudgetFigures): WaterBudget {
  const rows = hydrozones.map((line) => estimateUse(line, annualEtM, region));
  const regular = rows.filter((row) => !row.special);
  const special = rows.filter((row) => row.special);
  const landscapeAreaM2 = total(rows, (row) => row.areaM2);
  const specialAreaM2 = total(special, (row) => row.areaM2);
  const regularAreaM2 = total(regular, (row) => row.areaM2);
  const weighted = total(regular, (row) => row.etafRatio * row.areaM2);
  const weightedSpecial = total(special, (row) => row.etafRatio * row.areaM2);
  const averageEtafRatio = regularAreaM2 > 0 ? weighted / regularAreaM2 : 0;
  const regularUseM3 = total(regular, (row) => row.etwuM3);
  const specialUseM3 = total(special, (row) => row.etwuM3);
  const estimatedUseM3 = regularUseM3 + specialUseM3;
  const allowed = allowanceM3(annualEtM, region, landscapeAreaM2, specialAreaM2);
  const budget = {
    regionKey: region.key,
    regionName: region.name,
    regionSource: region.source,
    annualEtM,
    limitEtafRatio: region.etafRatio,
    landscapeAreaM2,
    specialAreaM2,
    averageEtafRatio,
    sitewideEtafRatio: landscapeAreaM2 > 0 ? (weighted + weightedSpecial) / landscapeAreaM2 : 0,
    averageHolds: averageEtafRatio <= region.etafRatio + 1e-9,
    allowanceHolds: estimatedUseM3 <= allowed * (1 + 1e-9),
    allowanceM3: allowed,
    estimatedUseM3,
    regularUseM3,
    specialUseM3,
    hydrozones: rows,
    savingAgainstSprayM3: sprayUseM3(rows, annualEtM, region) - estimatedUseM3,
    sprayEfficiencyRatio: region.sprayEfficiencyRatio,
  };
  return { ...budget, problems: findings(budget), traces: tracesOf(budget, region.constantRatio) };
}

/** The region a plan names, or the assumed one with a note. Local ordinance comes first, and every budget says so. */
function regionOf(plan: Plan): { readonly region: BudgetRegion; readonly problems: readonly Problem[] } {
  const localFirst: Problem = {
    code: 'soilwater.local-ordinance-first',
    severity: 'note',
    where: {},
    params: {},
    source: SOURCES.ordinance,
  };
  const named = budgetRegionFor(plan.site.region);
  if (named !== undefined) return { region: named, problems: [localFirst] };
  const assumed = budgetRegionFor(ASSUMED_REGION_KEY);
  if (assumed === undefined) throw new Error('the assumed region has no row');
  return {
    region: assumed,
    problems: [
      {
        code: 'soilwater.region-assumed',
        severity: 'note',
        where: {},
        params: { regionName: assumed.name, wanted: plan.site.region },
        source: SOURCES.ours,
      },
      localFirst,
    ],
  };
}

/**
 * The water budget of a plan: allowance, estimated use by hydrozone, regular and special area, and the saving against
 * spray at the region's spray efficiency with the same plants and areas. Where the region is only assumed its limits may
 * not be the job's own, so what goes beyond them is noted, not warned of.
 */
export function waterBudget(input: {
  readonly plan: Plan;
  readonly hydrozones: readonly HydrozoneInput[];
}): WaterBudget {
  const { region, problems } = regionOf(input.plan);
  const et = referenceEtFor(input.plan);
  const budget = computeBudget({ annualEtM: et.annualM, region, hydrozones: input.hydrozones });
  const isAssumed = problems.some(({ code }) => code === 'soilwater.region-assumed');
  const own = isAssumed
    ? budget.problems.map((one) => ({ ...one, severity: 'note' as const }))
    : budget.problems;
  return { ...budget, problems: [...problems, ...own] };
}
