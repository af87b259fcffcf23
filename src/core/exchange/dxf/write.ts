import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import type { Design, DesignedBed } from '../../design';
import { innerPoint, type PlanPoint, type Polyline } from '../../geometry';
import type { Bed, Plan } from '../../plan';
import type { SupplyDesign } from '../../supply';

/** Layers of the drawing, with their colour number of the format's palette (7 is black on white). */
const LAYERS = {
  BED: 3,
  'BED-USABLE': 8,
  BUILDING: 7,
  PAVING: 8,
  FENCE: 8,
  OBSTACLE: 1,
  TREE: 94,
  PLANT: 94,
  UTILITY: 1,
  SOURCE: 5,
  VALVE: 5,
  CONTROLLER: 6,
  SPOT: 8,
  OTHER: 9,
  TUBING: 4,
  'TUBING-BLANK': 140,
  FITTING: 2,
  HEADER: 5,
  MAIN: 5,
  SLEEVE: 30,
  WIRE: 6,
  DEVICE: 5,
  NAMES: 7,
} as const;
type Layer = keyof typeof LAYERS;

/** Radius of the ring that marks a fitting or a device, and height of lettering, metres on the ground. */
const MARK_RADIUS_M = 0.08;
const LETTER_HEIGHT_M = 0.25;

/** Puts shapes on named layers, in metres. */
interface Drafting {
  readonly path: (layer: Layer, path: Polyline, isClosed: boolean, bulges?: readonly number[]) => void;
  readonly circle: (layer: Layer, at: PlanPoint, radiusM: number) => void;
  readonly point: (layer: Layer, at: PlanPoint, elevationM?: number) => void;
  readonly text: (layer: Layer, at: PlanPoint, words: string) => void;
}

/** A drawing is lines of code and value: a break or a control character in a name would be read as the next code. */
const oneLine = (words: string): string => words.replace(/[\p{Cc}\u2028\u2029]+/gu, ' ').slice(0, 250);

function startDrafting(writer: DxfWriter): Drafting {
  return {
    path: (layer, path, isClosed, bulges) => {
      if (path.length < 2) return;
      const vertices = path.map((p, i) => ({ point: point2d(p.x, p.y), bulge: bulges?.[i] ?? 0 }));
      writer.addLWPolyline(vertices, {
        layerName: layer,
        flags: isClosed ? LWPolylineFlags.Closed : LWPolylineFlags.None,
      });
    },
    circle: (layer, at, radiusM) => {
      if (radiusM > 0) writer.addCircle(point3d(at.x, at.y), radiusM, { layerName: layer });
    },
    point: (layer, at, elevationM = 0) => {
      writer.addPoint(at.x, at.y, elevationM, { layerName: layer });
    },
    text: (layer, at, words) => {
      if (words !== '')
        writer.addText(point3d(at.x, at.y), LETTER_HEIGHT_M, oneLine(words), { layerName: layer });
    },
  };
}

/** Bulge of an arc: the height over half the chord, positive to the right, as both our sagitta and the format have it. */
function bulgesOf(ring: Bed['rings'][number]): readonly number[] {
  return ring.points.map((from, i) => {
    const to = ring.points[(i + 1) % ring.points.length]!;
    const chordM = Math.hypot(to.x - from.x, to.y - from.y);
    const sagittaM = ring.edges[i]?.sagittaM ?? 0;
    return chordM === 0 ? 0 : (2 * sagittaM) / chordM;
  });
}

const STRUCTURE_LAYERS = {
  building: 'BUILDING',
  paving: 'PAVING',
  fence: 'FENCE',
  obstacle: 'OBSTACLE',
} as const;

function draftGround(plan: Plan, draft: Drafting): void {
  for (const bed of Object.values(plan.beds)) {
    for (const ring of bed.rings) draft.path('BED', ring.points, true, bulgesOf(ring));
  }
  for (const { kind, shape } of Object.values(plan.structures)) {
    const layer = STRUCTURE_LAYERS[kind];
    if (shape.kind === 'area') for (const ring of shape.rings) draft.path(layer, ring, true);
    else if (shape.kind === 'line') draft.path(layer, shape.path, false);
    else draft.circle(layer, shape.at, shape.radiusM);
  }
  for (const tree of Object.values(plan.trees)) {
    draft.circle('TREE', tree.at, tree.trunkRadiusM);
    draft.circle('TREE', tree.at, tree.canopyRadiusM);
  }
  for (const plant of Object.values(plan.plants)) draft.circle('PLANT', plant.at, plant.rootBallRadiusM);
  for (const utility of Object.values(plan.utilities)) draft.path('UTILITY', utility.path, false);
  for (const source of Object.values(plan.sources)) draft.point('SOURCE', source.at);
  for (const valve of Object.values(plan.valves)) draft.point('VALVE', valve.at);
  for (const controller of Object.values(plan.controllers)) draft.point('CONTROLLER', controller.at);
  for (const spot of Object.values(plan.spots)) draft.point('SPOT', spot.at, spot.elevationM);
  for (const { lines } of Object.values(plan.foreign))
    for (const line of lines) draft.path('OTHER', line, false);
}

/** A closed path repeats its first point; the format closes it by a flag instead. */
function draftRun(path: Polyline, isClosed: boolean, layer: Layer, draft: Drafting): void {
  draft.path(layer, isClosed ? path.slice(0, -1) : path, isClosed);
}

function draftBed(bed: DesignedBed, draft: Drafting): void {
  const { layout } = bed;
  for (const part of layout.usable) {
    for (const ring of [part.outer, ...part.holes]) draft.path('BED-USABLE', ring, true);
  }
  for (const run of layout.runs) {
    draftRun(run.path, run.closed, run.emittersM.length > 0 ? 'TUBING' : 'TUBING-BLANK', draft);
  }
  for (const join of layout.joins) draft.circle('FITTING', join, MARK_RADIUS_M);
  const [part] = layout.outline;
  const inside = part && innerPoint(part);
  if (inside) draft.text('NAMES', inside.at, bed.name === '' ? bed.mark : `${bed.mark}  ${bed.name}`);
}

function draftSupply(supply: SupplyDesign, draft: Drafting): void {
  for (const pipe of supply.main) draft.path('MAIN', pipe.path, false);
  for (const zone of supply.zones) {
    for (const pipe of zone.pipes) draft.path('HEADER', pipe.path, false);
    draft.text('NAMES', zone.assemblyAt, `V${zone.number}`);
  }
  const sleeves = [...supply.sleeves, ...supply.zones.flatMap((zone) => zone.sleeves)];
  for (const sleeve of new Map(sleeves.map((one) => [one.id, one])).values()) {
    draft.path('SLEEVE', sleeve.path, false);
  }
  const devices = [...supply.devices, ...supply.zones.flatMap((zone) => zone.devices)];
  for (const device of new Map(devices.map((one) => [one.id, one])).values()) {
    draft.circle('DEVICE', device.at, MARK_RADIUS_M);
  }
  for (const wire of supply.wires) draft.path('WIRE', wire.path, false);
}

/**
 * `plan.dxf`: the plan and its design on named layers, in metres, the plan's own axes. Arcs of bed edges stay arcs.
 * The same design always gives the same text.
 */
export function writeDxf(design: Design): string {
  const writer = new DxfWriter();
  writer.setUnits(Units.Meters);
  for (const [name, colour] of Object.entries(LAYERS)) writer.addLayer(name, colour, 'Continuous');
  const draft = startDrafting(writer);
  draftGround(design.plan, draft);
  for (const bed of design.beds) draftBed(bed, draft);
  draftSupply(design.supply, draft);
  return writer.stringify();
}
