import { setting, settingSource } from '../catalog';
import { highestStaticHeadM, meterOf, type SupplyDesign, sourceOf, type Zone } from '../supply';
import type { Problem, Source } from '../units';
import type { ReviewInput, Rule } from './types';
import { zoneParams } from './zones';

/** Static pressure above the limit needs a master regulator before anything is built. */
export const staticPressure: Rule = ({ plan }) => {
  const source = sourceOf(plan);
  const highestM = highestStaticHeadM(source) ?? 0;
  const limitM = setting(plan.settings, 'highestStaticHeadM');
  if (!source || highestM <= limitM * 1.0005) return [];
  return [
    {
      code: 'review.static-too-high',
      severity: 'stop',
      where: { id: source.id, x: source.at.x, y: source.at.y },
      params: { headM: highestM, limitHeadM: limitM },
      value: highestM,
      limit: limitM,
      unit: 'm of head',
      source: settingSource(plan.settings, 'highestStaticHeadM'),
    },
  ];
};

/** Heads of a zone with every outlet shut, at the year's highest pressure; total heads, m. */
interface AtRest {
  readonly beforeRegulatorM: number;
  readonly behindRegulatorM: number;
}

function atRest(zone: Zone, staticM: number): AtRest | null {
  const { nodes, links } = zone.network;
  const source = nodes.find(({ fixedHeadM }) => fixedHeadM !== undefined);
  if (!source) return null;
  const beforeRegulatorM = source.elevationM + staticM;
  const regulator = links.find(({ kind }) => kind === 'regulator');
  const outlet = nodes.find(({ id }) => id === regulator?.to);
  const heldM = outlet ? outlet.elevationM + zone.assembly.regulatedHeadM : beforeRegulatorM;
  return { beforeRegulatorM, behindRegulatorM: Math.min(beforeRegulatorM, heldM) };
}

/** Lower end of a link, m; null where the zone has no such link. */
function lowestOf(zone: Zone, linkId: string): number | null {
  const link = zone.network.links.find(({ id }) => id === linkId);
  if (!link) return null;
  const ends = zone.network.nodes.filter(({ id }) => id === link.from || id === link.to);
  return Math.min(...ends.map(({ elevationM }) => elevationM));
}

interface Strained {
  readonly code: string;
  readonly id: string;
  readonly at: { readonly x: number; readonly y: number } | undefined;
  readonly part: string;
  readonly headM: number;
  readonly limitM: number | undefined;
  readonly source: Source;
}

/** Main, and every part before the regulator, under the source's own pressure. */
function beforeRegulator(supply: SupplyDesign, zone: Zone, staticM: number): Strained[] {
  const rest = atRest(zone, staticM);
  if (!rest) return [];
  const placeOf = (kind: string) => supply.devices.find((device) => device.kind === kind)?.at;
  const pipes = supply.main.map(({ id, path, pipe }) => ({
    code: 'review.pipe-over-rating',
    linkId: id,
    id,
    at: path[0],
    part: `${pipe.name} ${pipe.nominal}`,
    limitM: pipe.maxHeadM,
    source: pipe.source,
  }));
  const part = (
    linkId: string,
    id: string,
    at: Strained['at'],
    made: Zone['assembly'] | SupplyDesign['backflow'],
  ) =>
    made
      ? [
          {
            code: 'review.part-over-rating',
            linkId,
            id,
            at,
            part: made.name,
            limitM: made.maxHeadM,
            source: made.source,
          },
        ]
      : [];
  return [
    ...pipes,
    ...part('backflow', 'source/backflow', placeOf('backflow'), supply.backflow),
    ...part('valve', zone.id, zone.assemblyAt, zone.assembly),
  ].flatMap(({ linkId, ...strained }): Strained[] => {
    const lowestM = lowestOf(zone, linkId);
    return lowestM === null ? [] : [{ ...strained, headM: rest.beforeRegulatorM - lowestM }];
  });
}

/** Headers behind the regulator: at its setting, and, should it stick open, at the source's own pressure. */
function headers(zone: Zone, staticM: number): Strained[] {
  const rest = atRest(zone, staticM);
  if (!rest) return [];
  return zone.pipes.flatMap(({ id, path, pipe }): Strained[] => {
    const lowestM = lowestOf(zone, id);
    if (lowestM === null) return [];
    const heldM = rest.behindRegulatorM - lowestM;
    const isHeldOver = heldM > pipe.maxHeadM;
    return [
      {
        code: isHeldOver ? 'review.pipe-over-rating' : 'review.pipe-over-rating-regulator-stuck',
        id,
        at: path[0],
        part: `${pipe.name} ${pipe.nominal}`,
        headM: isHeldOver ? heldM : rest.beforeRegulatorM - lowestM,
        limitM: pipe.maxHeadM,
        source: pipe.source,
      },
    ];
  });
}

/** The meter stands at the connection, where the highest pressure of the year is known; a flow test says nothing of it. */
function meterAtRest({ plan, catalog }: ReviewInput, staticM: number): Strained[] {
  const source = sourceOf(plan);
  const meter = meterOf(source, catalog);
  if (!source || !meter) return [];
  return [
    {
      code: 'review.part-over-rating',
      id: 'source/meter',
      at: source.at,
      part: meter.name,
      headM: staticM,
      limitM: meter.maxHeadM,
      source: meter.source,
    },
  ];
}

/**
 * The burst check: every length of pipe and every part at the year's highest pressure, at rest, at its lowest point.
 * Limits: the rating of each part, from the catalogue. Parts of the main stand in several zones and are said once.
 */
export const burst: Rule = (input) => {
  const { plan, supply } = input;
  const staticM = highestStaticHeadM(sourceOf(plan));
  if (staticM === null) return [];
  const worst = new Map<string, Strained>();
  const strained = [
    ...meterAtRest(input, staticM),
    ...supply.zones.flatMap((zone) => [...beforeRegulator(supply, zone, staticM), ...headers(zone, staticM)]),
  ];
  for (const one of strained) {
    const known = worst.get(one.id);
    if (one.limitM === undefined || one.headM <= one.limitM) continue;
    if (!known || one.headM > known.headM) worst.set(one.id, one);
  }
  return [...worst.values()].map(
    ({ code, id, at, part, headM, limitM, source }): Problem => ({
      code,
      severity: code === 'review.pipe-over-rating-regulator-stuck' ? 'warn' : 'stop',
      where: at ? { id, x: at.x, y: at.y } : { id },
      params: { part, headM, limitHeadM: limitM ?? 0 },
      value: headM,
      limit: limitM ?? 0,
      unit: 'm of head',
      source,
    }),
  );
};

/**
 * Tubing at the year's highest pressure: where the source is weak at its lowest the regulator stands open and the solved
 * pressures stay low; at the highest it holds its setting, and the lowest emitter bears that and its fall.
 */
export const tubingAtHighest: Rule = ({ plan, supply }) => {
  const staticM = highestStaticHeadM(sourceOf(plan));
  if (staticM === null) return [];
  return supply.zones.flatMap((zone): Problem[] => {
    const rest = atRest(zone, staticM);
    const over = zone.network.nodes
      .flatMap(({ emitter, elevationM }) =>
        emitter ? [{ headM: (rest?.behindRegulatorM ?? 0) - elevationM, limitM: emitter.maxHeadM }] : [],
      )
      .filter(({ headM, limitM }) => headM > limitM)
      .sort((a, b) => b.headM - a.headM)[0];
    if (!rest || !over || zone.emitterHeadM.max > over.limitM) return [];
    return [
      {
        code: 'review.tubing-over-at-highest',
        severity: 'warn',
        where: { id: zone.id, x: zone.assemblyAt.x, y: zone.assemblyAt.y },
        params: { ...zoneParams(zone), headM: over.headM, limitHeadM: over.limitM },
        value: over.headM,
        limit: over.limitM,
        unit: 'm of head',
        source: zone.assembly.source,
      },
    ];
  });
};
