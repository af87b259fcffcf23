import { typicalCatalog } from '../../src/core/catalog';
import { type Design, type DesignedBed, designPlan } from '../../src/core/design';
import type { MultiPolygon, PlanPoint } from '../../src/core/geometry';
import { type Bed, emptyPlan, type Plan, plainBed } from '../../src/core/plan';
import type { Zone } from '../../src/core/supply';

const WIDE_M = 12;
const HIGH_M = 9;
const ALLEY_M = 1.5;

function bedAt(id: string, x: number, y: number): Bed {
  const points = [
    { x, y },
    { x: x + WIDE_M, y },
    { x: x + WIDE_M, y: y + HIGH_M },
    { x, y: y + HIGH_M },
  ];
  return plainBed(
    id,
    [{ points, edges: points.map(() => ({ class: null, offsetM: null, sagittaM: 0 })) }],
    id,
  );
}

/** One designed bed, put down again elsewhere under other names. */
function copyBed(bed: DesignedBed, id: string, zoneId: string, dx: number, dy: number): DesignedBed {
  const moved = <T extends PlanPoint>(point: T): T => ({ ...point, x: point.x + dx, y: point.y + dy });
  const movedParts = (parts: MultiPolygon): MultiPolygon =>
    parts.map(({ outer, holes }) => ({
      outer: outer.map(moved),
      holes: holes.map((hole) => hole.map(moved)),
    }));
  const { layout } = bed;
  return {
    ...bed,
    id,
    sourceBedId: id,
    name: id,
    zoneId,
    layout: {
      ...layout,
      bedId: id,
      outline: movedParts(layout.outline),
      usable: movedParts(layout.usable),
      stubUp: moved(layout.stubUp),
      runs: layout.runs.map((run) => ({ ...run, id: `${id} ${run.id}`, path: run.path.map(moved) })),
      joins: layout.joins.map(moved),
      coverage: { ...layout.coverage, gaps: layout.coverage.gaps.map(moved) },
    },
  };
}

const copyZone = (zone: Zone, id: string, bedId: string): Zone => ({
  ...zone,
  id,
  name: id,
  bedIds: [bedId],
  pipes: [],
  sleeves: [],
  devices: [],
  network: { ...zone.network, nodes: [], links: [] },
  tubing: { pieces: [], stubUps: [], flush: [] },
  flush: [],
  traces: [],
  emitters: { ...zone.emitters, runIds: zone.emitters.runIds.map((runId) => `${bedId} ${runId}`) },
});

/**
 * A plan of many equal beds with at least `emitterCount` emitters, and its design: one bed is routed and solved, the others are
 * copies of it. For drawing only: how long routing takes is another question.
 */
export function manyEmitters(emitterCount: number): { readonly plan: Plan; readonly design: Design } {
  const one: Plan = { ...emptyPlan('one'), beds: { bed: bedAt('bed', 0, 0) } };
  const designed = designPlan(one, typicalCatalog, { quality: 'preview' });
  const [bed] = designed.beds;
  const [zone] = designed.supply.zones;
  if (!bed || !zone) throw new Error('the bed of the bench was not routed');
  const each = zone.emitters.headM.length;
  const count = Math.ceil(emitterCount / each);
  const columns = Math.ceil(Math.sqrt(count));
  const places = Array.from({ length: count }, (_, index) => ({
    id: `bed-${String(index).padStart(4, '0')}`,
    x: (index % columns) * (WIDE_M + ALLEY_M),
    y: Math.floor(index / columns) * (HIGH_M + ALLEY_M),
  }));
  const plan: Plan = {
    ...emptyPlan('many'),
    beds: Object.fromEntries(places.map(({ id, x, y }) => [id, bedAt(id, x, y)])),
  };
  return {
    plan,
    design: {
      ...designed,
      plan,
      quality: 'finished',
      findings: [],
      traces: [],
      beds: places.map(({ id, x, y }) => copyBed(bed, id, `zone ${id}`, x, y)),
      supply: { ...designed.supply, zones: places.map(({ id }) => copyZone(zone, `zone ${id}`, id)) },
    },
  };
}
