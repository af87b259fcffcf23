import { type Assembly, type Catalog, setting } from '../catalog';
import type { Plan } from '../plan';
import type { Problem } from '../units';
import { type Open, packBeds } from './packBeds';
import type { ServedBed } from './types';

/** Beds that share a valve, before anything is routed. */
export interface ZoneGroup {
  readonly zoneKey: string | null;
  readonly beds: readonly ServedBed[];
  /** Flow at the emitters' rated flow, before solving. */
  readonly nominalFlowM3s: number;
  readonly why: readonly Problem[];
  readonly problems: readonly Problem[];
}

/** Flow of a bed with every emitter at its rated flow, m3/s. */
export function nominalFlowM3s(bed: ServedBed): number {
  const emitters = bed.layout.runs.reduce((sum, run) => sum + run.emittersM.length, 0);
  return emitters * bed.dripline.emitterFlowM3s;
}

const note = (code: string, id: string, params: Problem['params']): Problem => ({
  code,
  severity: 'note',
  where: { id },
  params,
});

/** Needs that may never share a valve whatever the designer asks. Source: 23 CCR 492.7(a)(2). */
export function mixesHighAndLow(plants: readonly string[]): boolean {
  const needs = new Set(plants);
  return needs.has('high') && (needs.has('low') || needs.has('very-low'));
}

/** A bed planted or exposed so that it drinks a quarter less or more than its kind has a valve of its own. Common practice, no source. */
const UNLIKE_THIRST_RATIO = 0.25;

const thirstOf = (factor: number): string => {
  if (factor < 1 - UNLIKE_THIRST_RATIO) return 'less';
  return factor > 1 + UNLIKE_THIRST_RATIO ? 'more' : 'usual';
};

/** What beds must have in common to share a valve: need and thirst beside it, sun, slope class, soil and tubing. */
function kindOf(plan: Plan, bed: ServedBed): string {
  const steep = bed.slopeRatio > setting(plan.settings, 'slopeMixLimitRatio') ? 'sloping' : 'level';
  return [bed.plants, thirstOf(bed.waterFactor ?? 1), bed.sun, bed.soil, steep, bed.dripline.id].join('|');
}

/**
 * Height one zone may span: with plain tubing the published 8 ft; with compensating tubing what lies between the usual
 * setting and the emitter's least head, less a third for friction.
 */
function spanLimitM(plan: Plan, bed: ServedBed, usual: Assembly | undefined): number {
  if (bed.dripline.emitter.kind === 'power') return setting(plan.settings, 'elevationSpreadPlainM');
  const settingM = usual?.regulatedHeadM ?? 0;
  return Math.max(1, ((settingM - bed.dripline.emitter.minHeadM) * 2) / 3);
}

function reasonsFor(
  beds: readonly ServedBed[],
  flowM3s: number,
  limitM3s: number,
  zoneKey: string | null,
): Problem[] {
  const [first] = beds;
  if (!first) return [];
  const ids = [...new Set(beds.map(({ name, bedId }) => name || bedId))];
  const shared = note(zoneKey === null ? 'supply.zone-alike' : 'supply.zone-chosen', first.bedId, {
    beds: ids,
    plants: first.plants,
    sun: first.sun,
    soil: first.soil,
    zoneKey: zoneKey ?? '',
  });
  const room = note('supply.zone-room', first.bedId, {
    flowM3s,
    limitM3s: Number.isFinite(limitM3s) ? limitM3s : 0,
  });
  return [shared, room];
}

/** What is wrong with a group whatever its hydraulics: mixed needs under one key, or one bed that asks more than there is. */
function faultsOf(group: Open, limitM3s: number, usableFlowM3s: number | null): Problem[] {
  const [first] = group.beds;
  if (!first || group.flowM3s <= limitM3s * (1 + 1e-9)) return [];
  const exceedsSupply = usableFlowM3s !== null && group.flowM3s > usableFlowM3s;
  return [
    {
      code: exceedsSupply ? 'supply.zone-over-supply' : 'supply.zone-over-assembly',
      severity: 'stop',
      where: { id: first.bedId, x: first.layout.stubUp.x, y: first.layout.stubUp.y },
      params: { beds: group.beds.map(({ name, bedId }) => name || bedId), flowM3s: group.flowM3s, limitM3s },
      value: group.flowM3s,
      limit: limitM3s,
      unit: 'm3/s',
    },
  ];
}

/**
 * Which beds share a valve. Beds the designer keyed together stay together; the rest are grouped only with beds of the same
 * need, sun, soil, slope class and tubing, as few valves as the flow allows, never more than the largest assembly or the
 * usable flow. Beds whose tubing was refused are left out.
 *
 * @param usableFlowM3s what the source may be counted on for; null: only the assemblies limit
 * @returns groups in the order of their first bed as given
 */
export function groupZones(input: {
  readonly plan: Plan;
  readonly catalog: Catalog;
  readonly beds: readonly ServedBed[];
  readonly usableFlowM3s: number | null;
}): ZoneGroup[] {
  const { plan, catalog, usableFlowM3s } = input;
  const beds = input.beds.filter(({ layout }) => layout.status === 'routed' && layout.runs.length > 0);
  const widestM3s = Math.max(0, ...catalog.assemblies.map(({ maxFlowM3s }) => maxFlowM3s));
  const limitM3s = Math.min(widestM3s, usableFlowM3s ?? Number.POSITIVE_INFINITY);
  const usual = usualAssembly(catalog);
  const place = new Map(beds.map((bed, index) => [bed.bedId, index]));
  const pools = new Map<string, { zoneKey: string | null; beds: ServedBed[] }>();
  for (const bed of beds) {
    const key = bed.zoneKey === null ? `kind ${kindOf(plan, bed)}` : `key ${bed.zoneKey}`;
    const pool = pools.get(key) ?? { zoneKey: bed.zoneKey, beds: [] };
    pool.beds.push(bed);
    pools.set(key, pool);
  }
  const groups = [...pools.values()].flatMap((pool) => {
    const open: Open[] =
      pool.zoneKey === null
        ? packBeds(
            pool.beds.map((bed) => ({ bed, flowM3s: nominalFlowM3s(bed) })),
            { flowM3s: limitM3s, spanM: spanLimitM(plan, pool.beds[0]!, usual) },
          )
        : [{ beds: pool.beds, flowM3s: pool.beds.reduce((sum, bed) => sum + nominalFlowM3s(bed), 0) }];
    return open.map((group): ZoneGroup => {
      const inOrder = [...group.beds].sort((a, b) => place.get(a.bedId)! - place.get(b.bedId)!);
      return {
        zoneKey: pool.zoneKey,
        beds: inOrder,
        nominalFlowM3s: group.flowM3s,
        why: reasonsFor(inOrder, group.flowM3s, limitM3s, pool.zoneKey),
        problems: faultsOf(group, limitM3s, usableFlowM3s),
      };
    });
  });
  return groups.sort((a, b) => place.get(a.beds[0]!.bedId)! - place.get(b.beds[0]!.bedId)!);
}

/** Setting a drip assembly usually has: the one of the catalogue nearest 25 psi. */
const USUAL_SETTING_M = 17.577;
const PLAIN_SETTING_M = 10.546;

function usualAssembly(catalog: Catalog): Assembly | undefined {
  return [...catalog.assemblies].sort(
    (a, b) => Math.abs(a.regulatedHeadM - USUAL_SETTING_M) - Math.abs(b.regulatedHeadM - USUAL_SETTING_M),
  )[0];
}

/**
 * The assembly for a flow: the designer's where locked; else the smallest whose window holds the flow, at the setting
 * nearest 25 psi (15 psi for tubing that does not compensate). Outside every window, the nearest window; review says so.
 */
export function chooseAssembly(
  catalog: Catalog,
  flowM3s: number,
  compensating: boolean,
  lockedId: string | null,
): Assembly | null {
  const locked = catalog.assemblies.find(({ id }) => id === lockedId);
  if (locked) return locked;
  const outside = (assembly: Assembly): number =>
    Math.max(0, assembly.minFlowM3s - flowM3s, flowM3s - assembly.maxFlowM3s);
  const wantedM = compensating ? USUAL_SETTING_M : PLAIN_SETTING_M;
  const away = (assembly: Assembly): number => Math.abs(assembly.regulatedHeadM - wantedM);
  return (
    [...catalog.assemblies].sort(
      (a, b) =>
        outside(a) - outside(b) || a.maxFlowM3s - b.maxFlowM3s || away(a) - away(b) || (a.id < b.id ? -1 : 1),
    )[0] ?? null
  );
}
