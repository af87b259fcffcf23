import { z } from 'zod';
import { type PlanDraft, Refusal } from './draft';
import { asDrawn, CORNERED_MAPS, type CorneredMap, flattened, storedPoints } from './outlines';
import type { DrawnArc, ItemMap, Plan } from './schema';

const id = z.string().min(1).max(200);

function ringOf(draft: PlanDraft, bedId: string, ringIndex: number) {
  const bed = Object.hasOwn(draft.beds, bedId) ? draft.beds[bedId] : undefined;
  const ring = bed?.rings[ringIndex];
  if (bed === undefined || ring === undefined) throw new Refusal('plan.no-such-item', bedId);
  return ring;
}

type Anchor = Extract<Plan['dimensions'][string]['from'], { kind: 'corner' }>;

/** Lets the dimensions tied to corners of a ring follow when its corners are numbered anew; null unties: they go. */
export function renumberCorners(
  draft: PlanDraft,
  itemId: string,
  ringIndex: number,
  renumber: (pointIndex: number) => number | null,
): void {
  const isTied = (end: Plan['dimensions'][string]['from']): end is Anchor =>
    end.kind === 'corner' && end.itemId === itemId && end.ringIndex === ringIndex;
  for (const dimension of Object.values(draft.dimensions)) {
    for (const end of [dimension.from, dimension.to]) {
      if (!isTied(end)) continue;
      const next = renumber(end.pointIndex);
      if (next === null) delete draft.dimensions[dimension.id];
      else end.pointIndex = next;
    }
  }
}

/** A corner, and the edge that leaves it, of anything drawn by corners; no map: of a bed. */
export const ringPlace = z.strictObject({
  map: z.enum(CORNERED_MAPS).optional(),
  id,
  ringIndex: z.int().min(0),
  pointIndex: z.int().min(0),
});
type RingPlace = z.infer<typeof ringPlace>;

/** An outline under edit; of a bed its own ring, of anything else what was drawn, which is stored anew afterwards. */
interface OutlineDraft {
  readonly points: { x: number; y: number }[];
  readonly edges: Record<string, unknown>[];
  readonly isClosed: boolean;
}

/** The new number of a corner; null: it is gone. */
type Renumber = (corner: number) => number | null;

/** Changes one outline of a thing drawn by corners; what is tied to its corners follows. */
export function changeOutline(
  draft: PlanDraft,
  place: RingPlace,
  change: (outline: OutlineDraft) => Renumber | null,
): void {
  const { map = 'beds', id: itemId, ringIndex } = place;
  if (map === 'beds') {
    const ring = ringOf(draft, itemId, ringIndex);
    const renumber = change({
      points: ring.points,
      edges: ring.edges as unknown as Record<string, unknown>[],
      isClosed: true,
    });
    if (renumber) renumberCorners(draft, itemId, ringIndex, renumber);
    return;
  }
  const stored = storedPoints(draft, map, itemId);
  const chain = stored?.chains[ringIndex];
  if (!stored || !chain) throw new Refusal('plan.no-such-item', itemId);
  const others = stored.arcs.filter((arc) => arc.ringIndex !== ringIndex);
  const before = asDrawn(
    chain,
    stored.arcs.filter((arc) => arc.ringIndex === ringIndex),
    stored.isClosed,
  );
  const points = before.outline.points.map(({ x, y }) => ({ x, y }));
  const edges = before.outline.edges.map(({ sagittaM }) => ({ sagittaM }));
  const renumber = change({ points, edges, isClosed: stored.isClosed }) ?? ((corner) => corner);
  const after = flattened({ points, edges, isClosed: stored.isClosed }, ringIndex);
  store(draft, map, itemId, ringIndex, after.points, [...others, ...after.arcs]);
  renumberCorners(draft, itemId, ringIndex, (pointIndex) => {
    const corner = renumber(before.corners.findLastIndex((index) => index <= pointIndex));
    return corner === null ? null : (after.corners[corner] ?? null);
  });
}

function store(
  draft: PlanDraft,
  map: Exclude<CorneredMap, 'beds'>,
  itemId: string,
  ringIndex: number,
  points: readonly { x: number; y: number }[],
  arcs: readonly DrawnArc[],
): void {
  const holder = map === 'structures' ? draft.structures[itemId]?.shape : draft[map][itemId];
  if (holder === undefined || ('kind' in holder && holder.kind === 'disc')) return;
  if ('rings' in holder) holder.rings[ringIndex] = [...points];
  else holder.path = [...points];
  if (arcs.length > 0) holder.arcs = [...arcs];
  else delete holder.arcs;
}

/** A mirrored arc bulges to the other side of its way. */
export function mirrorArcs(draft: PlanDraft, map: ItemMap, itemId: string): void {
  if (map !== 'structures' && map !== 'utilities' && map !== 'lockedPipes') return;
  for (const arc of storedPoints(draft, map, itemId)?.arcs ?? []) arc.sagittaM = -arc.sagittaM;
}
