import type { Design } from '../../../core/design';
import {
  type Box,
  boxesTouch,
  centroid,
  innerPoint,
  multiPolygonAreaM2,
  nestRings,
  type PlanPoint,
  type Polygon,
  signedDistanceToPolygonM,
  subtractRings,
} from '../../../core/geometry';
import { type Bed, itemName, type Plan } from '../../../core/plan';
import type { Printer } from '../../../core/units';
import { bedOutline, type Outline, structureOutline } from '../shape/outline';
import { type Brush, onScreen, placeOnScreen } from './brush';
import { lettersWidthPx, paintLetters } from './letters';
import { paintSymbol } from './symbol';

/** A bed narrower than this has its name beside it, clear of its tubing. */
const LEAST_LABEL_ROOM_PX = 20;

interface Middle {
  readonly at: PlanPoint;
  readonly clearanceM: number;
  readonly areaM2: number;
}

const middles = new WeakMap<object, Middle | null>();

/** The roomiest place in an outline and the ground it holds, found once for each outline. */
export function middleOf(outline: { readonly rings: readonly (readonly PlanPoint[])[] }): Middle | null {
  const known = middles.get(outline);
  if (known !== undefined) return known;
  const parts = nestRings(outline.rings, 'even-odd');
  const largest = parts.reduce<(typeof parts)[number] | null>(
    (best, part) => (best === null || multiPolygonAreaM2([part]) > multiPolygonAreaM2([best]) ? part : best),
    null,
  );
  const inner = largest ? calmest(largest) : null;
  const middle = inner && { ...inner, areaM2: multiPolygonAreaM2(parts) };
  middles.set(outline, middle);
  return middle;
}

/** The middle of the ground where that is nearly as roomy as any place: a label wanders less from plan to plan. */
function calmest(part: Polygon): { readonly at: PlanPoint; readonly clearanceM: number } | null {
  const roomiest = innerPoint(part, 0.2);
  const at = centroid(part);
  const clearanceM = signedDistanceToPolygonM(at, part);
  return roomiest && clearanceM < 0.7 * roomiest.clearanceM ? roomiest : { at, clearanceM };
}

const clearings = new WeakMap<
  object,
  { readonly structures: Plan['structures']; readonly outline: Outline }
>();

/** A bed's ground without what stands on it, so that its name covers no boulder. */
function clearGround(plan: Plan, bed: Bed): Outline {
  const outline = bedOutline(bed);
  const known = clearings.get(outline);
  if (known?.structures === plan.structures) return known.outline;
  const standing = Object.values(plan.structures)
    .filter((one) => one.kind === 'obstacle')
    .flatMap((one) => structureOutline(one).rings);
  const ground = subtractRings(outline.rings, standing);
  const clear = standing.length === 0 || ground.length === 0 ? outline : { rings: ground, box: outline.box };
  clearings.set(outline, { structures: plan.structures, outline: clear });
  return clear;
}

const seenIn = (brush: Brush, box: Box): boolean => boxesTouch(box, brush.sight);

/** Names and areas of beds, names of structures; knocked out of the tubing so that both can be read. */
export function paintLabels(brush: Brush, plan: Plan, design: Design | null, printer: Printer): void {
  onScreen(brush);
  for (const structure of Object.values(plan.structures)) {
    const outline = structureOutline(structure);
    if (structure.name === '' || structure.kind === 'fence' || !seenIn(brush, outline.box)) continue;
    const middle = middleOf(outline);
    if (!middle) continue;
    const wide = lettersWidthPx(brush, structure.name, 14);
    if (wide > (outline.box.maxX - outline.box.minX) * brush.view.pixelsPerM) continue;
    const ground =
      brush.palette.ink[
        structure.kind === 'building' ? 'build' : structure.kind === 'paving' ? 'paving' : 'paper'
      ];
    const lettering = { text: structure.name, sizePx: 13, ink: brush.palette.ink['ink-2'], ground };
    paintLetters(brush, placeOnScreen(brush, middle.at), lettering);
  }
  for (const bed of Object.values(plan.beds)) {
    const outline = bedOutline(bed);
    if (seenIn(brush, outline.box)) paintBedLabel(brush, plan, bed, printer);
  }
  if (design) paintRunMarks(brush, design);
}

function paintBedLabel(brush: Brush, plan: Plan, bed: Bed, printer: Printer): void {
  const middle = middleOf(clearGround(plan, bed));
  if (!middle) return;
  const name = itemName(plan, 'beds', bed.id);
  const area = printer.area(middleOf(bedOutline(bed))?.areaM2 ?? middle.areaM2);
  const ground = brush.palette.ink.bed;
  const nameWide = lettersWidthPx(brush, name, 16, 600);
  const areaWide = lettersWidthPx(brush, area, 13);
  const box = bedOutline(bed).box;
  const roomPx = Math.max(box.maxX - box.minX, box.maxY - box.minY) * brush.view.pixelsPerM;
  if (nameWide > roomPx) return;
  const at = placeOnScreen(brush, middle.at);
  if (middle.clearanceM * brush.view.pixelsPerM < LEAST_LABEL_ROOM_PX) {
    const beside = placeOnScreen(brush, { x: box.minX, y: (box.minY + box.maxY) / 2 });
    const text = `${name}  ${area}`;
    paintLetters(
      brush,
      { x: beside.x - 10, y: beside.y },
      { text, sizePx: 13, weight: 600, anchor: 'end', ground: brush.palette.ink.paper },
    );
    return;
  }
  const isBoth = nameWide + areaWide + 10 < roomPx;
  if (!isBoth) {
    paintLetters(brush, at, { text: name, sizePx: 15, weight: 600, ground });
    return;
  }
  const left = at.x - (nameWide + 8 + areaWide) / 2;
  paintLetters(brush, { x: left, y: at.y }, { text: name, sizePx: 16, weight: 600, ground, anchor: 'start' });
  paintLetters(
    brush,
    { x: left + nameWide + 8, y: at.y },
    { text: area, sizePx: 13, ground, anchor: 'start' },
  );
}

/** A plant label at each stub-up, pointing to where the run starts. */
function paintRunMarks(brush: Brush, design: Design): void {
  if (brush.view.pixelsPerM < 7) return;
  for (const bed of design.beds) {
    if (bed.layout.status !== 'routed') continue;
    const at = placeOnScreen(brush, bed.layout.stubUp);
    paintSymbol(brush, 'stub-up', at, 17);
  }
}
