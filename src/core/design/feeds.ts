import type { BedLayout, Join, Run } from '../layout';
import type { SupplyDesign, Zone } from '../supply';
import type { Problem } from '../units';
import type { DesignCache } from './cache';

/** What joins the id of a bed and the number of one of its feeds. No id of a plan or a part holds it. */
const FEED_MARK = '\u2237';

/** The bed part a feed belongs to. */
export const partOfFeed = (feedId: string): string => feedId.split(FEED_MARK)[0] ?? feedId;

/** Runs that hang together by joins, in the order of the runs. */
function pieces(runs: readonly Run[], joins: readonly Join[]): Run[][] {
  const groupOf = new Map(runs.map((run, index) => [run.id, index]));
  for (const join of joins) {
    const groups = join.runIds.map((id) => groupOf.get(id)).filter((group) => group !== undefined);
    const first = Math.min(...groups);
    for (const [id, group] of groupOf) if (groups.includes(group)) groupOf.set(id, first);
  }
  const found = new Map<number, Run[]>();
  for (const run of runs) {
    const group = groupOf.get(run.id) ?? 0;
    found.set(group, [...(found.get(group) ?? []), run]);
  }
  return [...found.values()];
}

/**
 * A layout of several loops, each with its own tees at the edge, as one layout a feed, so that each gets its own header and
 * may hang on its own valve. A layout fed at one place comes back as it is.
 */
export function feedsOf(layout: BedLayout): readonly BedLayout[] {
  const fed = pieces(layout.runs, layout.joins).map((runs) => {
    const ids = new Set(runs.map((run) => run.id));
    const joins = layout.joins.filter((join) => join.runIds.some((id) => ids.has(id)));
    return { runs, joins, stubUp: joins.find((join) => join.fitting === 'stub-up-tee') ?? null };
  });
  const [first, ...others] = fed.filter((piece) => piece.stubUp !== null);
  if (first === undefined || others.length === 0) return [layout];
  const loose = fed.filter((piece) => piece.stubUp === null);
  const whole = [{ ...first, runs: [...first.runs, ...loose.flatMap((piece) => piece.runs)] }, ...others];
  const lengthM = layout.runs.reduce((sum, run) => sum + run.lengthM, 0);
  return whole.map(({ runs, joins, stubUp }, index) => {
    const share = runs.reduce((sum, run) => sum + run.lengthM, 0) / lengthM;
    const lead = runs.find((run) => run.role === 'lead');
    return {
      ...layout,
      bedId: `${layout.bedId}${FEED_MARK}${index + 1}`,
      runs,
      joins,
      stubUp: lead?.path[0] ?? stubUp ?? layout.stubUp,
      areaM2: layout.areaM2 * share,
      usableAreaM2: layout.usableAreaM2 * share,
    };
  });
}

const pointsAtPart = (problem: Problem): Problem =>
  problem.where.id === undefined
    ? problem
    : { ...problem, where: { ...problem.where, id: partOfFeed(problem.where.id) } };

const zoneOfParts = (zone: Zone): Zone => ({
  ...zone,
  bedIds: [...new Set(zone.bedIds.map(partOfFeed))],
  tubing: {
    ...zone.tubing,
    stubUps: zone.tubing.stubUps.map((stub) => ({ ...stub, bedId: partOfFeed(stub.bedId) })),
  },
  why: zone.why.map(pointsAtPart),
  problems: zone.problems.map(pointsAtPart),
});

/** The supply side with every feed named by the bed part it belongs to. A zone without feeds keeps its identity. */
export function withPartsForFeeds(supply: SupplyDesign, recall: DesignCache['recall']): SupplyDesign {
  const zones = supply.zones.map((zone) =>
    zone.bedIds.some((id) => id.includes(FEED_MARK))
      ? recall('zone-parts', zone.id, [zone], () => zoneOfParts(zone))
      : zone,
  );
  return { ...supply, zones, problems: supply.problems.map(pointsAtPart) };
}
