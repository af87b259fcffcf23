import {
  DIRT_AREA_M2,
  distanceM,
  dropThinGround,
  inflateRings,
  intersectRings,
  nestRings,
  type PlanPoint,
  pointBetween,
  type Region,
  type Ring,
  ringAreaM2,
  ringLengthM,
  SegmentIndex,
  signedRingAreaM2,
  uniteRings,
} from '../../geometry';
import { type Bridge, WELD_M } from './bridges';
import { type Comb, largest } from './teeth';

/** The outlines of some teeth with the bridges between them: one for each group where all is well. */
export function outlineOf(comb: Comb, teeth: readonly number[], bridges: readonly Bridge[]): Ring[] {
  const welded =
    bridges.length > 0
      ? intersectRings(
          inflateRings(uniteRings(bridges.flatMap((bridge) => bridge.region)), WELD_M, 'miter'),
          comb.ground,
        )
      : [];
  const body = uniteRings([...teeth.map((index) => comb.teeth[index]!.outer), ...welded]);
  return body.filter((ring) => signedRingAreaM2(ring) > DIRT_AREA_M2);
}

/** A slot tried between two outlines. */
interface Slot {
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  readonly lengthM: number;
}

/**
 * Joins outlines that lie side by side with slots across the ground between them, shortest first, until one is left or
 * none can be joined. A slot must lie wholly on the ground, the count of rings must fall by exactly one, and `holds` may turn
 * a joint down.
 */
export function joinOutlines(
  outlines: readonly Ring[],
  ground: Region,
  spacingM: number,
  minSeparationM: number,
  holds: (joined: Ring) => boolean = () => true,
): Ring[] {
  let rings: Ring[] = [...outlines];
  for (let joined = true; joined && rings.length > 1; ) {
    joined = false;
    const order = rings
      .map((_, index) => index)
      .sort((a, b) => ringLengthM(rings[a]!) - ringLengthM(rings[b]!));
    for (const index of order) {
      const next = joinOne(rings, index, ground, spacingM, minSeparationM, holds);
      if (!next) continue;
      rings = next;
      joined = true;
      break;
    }
  }
  return rings;
}

const TRIED_SLOTS = 40;
/** Slots are tried this many spacings apart, shortest first: the shortest of all may lie in one corner; then closer together. */
const SLOTS_APART_RATIOS = [0.5, 0.2];
/** A slot may lose so many row squares where it reaches beyond the ground. */
const LOST_RATIO = 0.02;
/** Less ground than this is what the grid rounds away, m2. */
const NOTHING_M2 = 1e-5;
/** A neck is filled from edge to edge up to this many least separations, whatever its edges look like. */
const NECK_WIDTH_RATIO = 1.6;
/** A ring whose joints were turned down this often stays apart: the next slots lie beside the ones tried. */
const MOST_TURNED_DOWN = 5;

function joinOne(
  rings: readonly Ring[],
  index: number,
  ground: Region,
  spacingM: number,
  minSeparationM: number,
  holds: (joined: Ring) => boolean,
): Ring[] | null {
  const all = slotsFrom(rings, index, spacingM);
  const slots = SLOTS_APART_RATIOS.flatMap((ratio) => spread(all, ratio * spacingM).slice(0, TRIED_SLOTS));
  const along = (widthM: number, lostM2: number): (() => Ring | null)[] =>
    slots.map(
      (slot) => () => passage(slotRing(slot, widthM, 0.3 * spacingM), lostM2, ground, minSeparationM),
    );
  const wide = [0.9 * spacingM, 0.75 * spacingM].filter((widthM) => widthM > minSeparationM);
  const slackM2 = LOST_RATIO * spacingM ** 2;
  const drawn = [
    ...wide.flatMap((widthM) => along(widthM, slackM2)),
    ...along(NECK_WIDTH_RATIO * minSeparationM, Number.POSITIVE_INFINITY),
    ...along(minSeparationM, slackM2),
  ];
  let turnedDown = 0;
  for (const draw of drawn) {
    const slot = draw();
    if (slot === null) continue;
    const touched = rings.flatMap((ring, other) => {
      const shared = intersectRings([ring], [slot]);
      return shared.length > 0 ? [{ other, pieces: shared.length }] : [];
    });
    if (touched.length !== 2 || touched.some(({ pieces }) => pieces > 1)) continue;
    const partner = touched.find(({ other }) => other !== index)?.other;
    if (partner === undefined) continue;
    const joined = nestRings([rings[index]!, rings[partner]!, slot]);
    if (joined.length !== 1 || joined[0]!.holes.length > 0) continue;
    if (turnedDown >= MOST_TURNED_DOWN) return null;
    if (!holds(joined[0]!.outer)) {
      turnedDown++;
      continue;
    }
    return [...rings.filter((_, other) => other !== index && other !== partner), joined[0]!.outer];
  }
  return null;
}

/**
 * The ground of a rectangle along a slot; null where more than `lostM2` of it lies off the ground, or where what lies on it is
 * somewhere too thin for two runs.
 */
function passage(rectangle: Ring, lostM2: number, ground: Region, minSeparationM: number): Ring | null {
  const inside = intersectRings([rectangle], ground);
  const offM2 = ringAreaM2(rectangle) - inside.reduce((sum, piece) => sum + signedRingAreaM2(piece), 0);
  if (offM2 > lostM2) return null;
  if (offM2 < NOTHING_M2) return rectangle;
  const through = dropThinGround(inside, 0.51 * minSeparationM, 'miter');
  return largest(through);
}

function slotsFrom(rings: readonly Ring[], index: number, spacingM: number): Slot[] {
  const others = SegmentIndex.ofRings(rings.filter((_, other) => other !== index));
  const ring = rings[index]!;
  const stepM = 0.15 * spacingM;
  const slots: Slot[] = [];
  ring.forEach((a, position) => {
    const b = ring[(position + 1) % ring.length]!;
    const steps = Math.max(1, Math.ceil(distanceM(a, b) / stepM));
    for (let step = 0; step < steps; step++) {
      const from = pointBetween(a, b, step / steps);
      const near = others.nearest(from, 2.2 * spacingM);
      if (near && near.distanceM > 0.01) slots.push({ from, to: near.at, lengthM: near.distanceM });
    }
  });
  return slots.sort(
    (one, other) => one.lengthM - other.lengthM || one.from.y - other.from.y || one.from.x - other.from.x,
  );
}

/** The slots without those that begin nearer than `apartM` to one before them. */
function spread(slots: readonly Slot[], apartM: number): Slot[] {
  const kept: Slot[] = [];
  for (const slot of slots)
    if (kept.every((other) => distanceM(other.from, slot.from) >= apartM)) kept.push(slot);
  return kept;
}

function slotRing(slot: Slot, widthM: number, overlapM: number): Ring {
  const ux = (slot.to.x - slot.from.x) / slot.lengthM;
  const uy = (slot.to.y - slot.from.y) / slot.lengthM;
  const half = widthM / 2;
  const corner = (point: PlanPoint, along: number, aside: number): PlanPoint => ({
    x: point.x + ux * along - uy * aside,
    y: point.y + uy * along + ux * aside,
  });
  return [
    corner(slot.from, -overlapM, half),
    corner(slot.from, -overlapM, -half),
    corner(slot.to, overlapM, -half),
    corner(slot.to, overlapM, half),
  ];
}
