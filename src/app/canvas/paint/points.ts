import type { Design } from '../../../core/design';
import { distanceM, pointBetween } from '../../../core/geometry';
import type { Plan } from '../../../core/plan';
import type { Printer } from '../../../core/units';
import { type Brush, onPlan, onScreen, pixelsM, placeOnScreen, WEIGHT_PX, weightM } from './brush';
import { clearestPlace, isInBed } from './clearPlace';
import { lettersWidthPx, paintLetters } from './letters';
import { paintSymbol } from './symbol';

/** Trees, plants, buried lines, spot heights and the places of water, valves and controllers. */
export function paintPoints(brush: Brush, plan: Plan, design: Design | null, printer: Printer): void {
  paintTrees(brush, plan);
  paintPlants(brush, plan);
  paintUtilities(brush, plan, design);
  paintSpots(brush, plan, design, printer);
  paintPlaces(brush, plan, design);
}

function paintTrees(brush: Brush, plan: Plan): void {
  const { context, palette } = brush;
  for (const tree of Object.values(plan.trees)) {
    onPlan(brush);
    context.strokeStyle = palette.ink['ink-3'];
    context.lineWidth = weightM(brush, WEIGHT_PX.thin);
    context.setLineDash([pixelsM(brush, 6), pixelsM(brush, 4)]);
    context.beginPath();
    context.arc(tree.at.x, tree.at.y, tree.canopyRadiusM, 0, 2 * Math.PI);
    context.stroke();
    context.setLineDash([]);
    context.beginPath();
    const radius = Math.max(tree.trunkRadiusM, pixelsM(brush, 3));
    context.arc(tree.at.x, tree.at.y, radius, 0, 2 * Math.PI);
    context.fillStyle = palette.ink.paper;
    context.fill();
    context.strokeStyle = palette.ink.ink;
    context.lineWidth = weightM(brush, WEIGHT_PX.mid);
    context.stroke();
    context.beginPath();
    context.arc(tree.at.x, tree.at.y, radius * 0.5, 0, 2 * Math.PI);
    context.lineWidth = weightM(brush, WEIGHT_PX.thin);
    context.stroke();
  }
}

function paintPlants(brush: Brush, plan: Plan): void {
  const { context, palette } = brush;
  onPlan(brush);
  context.strokeStyle = palette.ink['ink-2'];
  context.lineWidth = weightM(brush, WEIGHT_PX.thin);
  for (const plant of Object.values(plan.plants)) {
    const radius = Math.max(plant.rootBallRadiusM, pixelsM(brush, 3));
    context.beginPath();
    context.arc(plant.at.x, plant.at.y, radius, 0, 2 * Math.PI);
    for (let spoke = 0; spoke < 3; spoke++) {
      const angle = (spoke * Math.PI) / 3;
      context.moveTo(plant.at.x - Math.cos(angle) * radius, plant.at.y - Math.sin(angle) * radius);
      context.lineTo(plant.at.x + Math.cos(angle) * radius, plant.at.y + Math.sin(angle) * radius);
    }
    context.stroke();
  }
}

/** Shares of a buried line's longest piece at which its name may stand, in the order they are liked. */
const NAME_AT = [0.5, 0.35, 0.65, 0.2, 0.8] as const;

function paintUtilities(brush: Brush, plan: Plan, design: Design | null): void {
  const { context, palette } = brush;
  for (const utility of Object.values(plan.utilities)) {
    onPlan(brush);
    context.strokeStyle = palette.ink.stop;
    context.lineWidth = weightM(brush, WEIGHT_PX.mid);
    context.setLineDash([pixelsM(brush, 12), pixelsM(brush, 4), pixelsM(brush, 3), pixelsM(brush, 4)]);
    context.beginPath();
    utility.path.forEach((point, index) => {
      if (index === 0) context.moveTo(point.x, point.y);
      else context.lineTo(point.x, point.y);
    });
    context.stroke();
    context.setLineDash([]);
    const pieces = utility.path.slice(1).map((to, index) => ({ from: utility.path[index] ?? to, to }));
    const [longest] = pieces.sort((a, b) => distanceM(b.from, b.to) - distanceM(a.from, a.to));
    if (!longest) continue;
    onScreen(brush);
    const text = utility.name === '' ? 'buried line' : utility.name;
    const places = NAME_AT.map((share) => ({
      at: placeOnScreen(brush, pointBetween(longest.from, longest.to, share)),
      anchor: 'middle' as const,
    }));
    const place = clearestPlace(brush, plan, design, lettersWidthPx(brush, text, 12), places);
    if (place)
      paintLetters(brush, place.at, { text, sizePx: 12, ink: palette.ink.stop, ground: palette.ink.paper });
  }
}

function paintSpots(brush: Brush, plan: Plan, design: Design | null, printer: Printer): void {
  const { context, palette } = brush;
  onScreen(brush);
  for (const spot of Object.values(plan.spots)) {
    const at = placeOnScreen(brush, spot.at);
    context.strokeStyle = palette.ink['ink-2'];
    context.lineWidth = WEIGHT_PX.thin;
    context.beginPath();
    context.moveTo(at.x - 4, at.y);
    context.lineTo(at.x + 4, at.y);
    context.moveTo(at.x, at.y - 4);
    context.lineTo(at.x, at.y + 4);
    context.stroke();
    const text = printer.length(spot.elevationM);
    const place = clearestPlace(brush, plan, design, lettersWidthPx(brush, text, 12), [
      { at: { x: at.x + 8, y: at.y - 8 }, anchor: 'start' },
      { at: { x: at.x - 8, y: at.y - 8 }, anchor: 'end' },
      { at: { x: at.x + 8, y: at.y + 9 }, anchor: 'start' },
      { at: { x: at.x - 8, y: at.y + 9 }, anchor: 'end' },
      { at: { x: at.x, y: at.y - 14 }, anchor: 'middle' },
      { at: { x: at.x, y: at.y + 15 }, anchor: 'middle' },
    ]);
    if (!place) continue;
    const ground = isInBed(plan, spot.at) ? palette.ink.bed : palette.ink.paper;
    paintLetters(brush, place.at, {
      text,
      sizePx: 12,
      anchor: place.anchor,
      ink: palette.ink['ink-2'],
      ground,
    });
  }
}

/** A valve that the design has given an assembly is drawn by its symbol; one that waits is an empty box. */
function paintPlaces(brush: Brush, plan: Plan, design: Design | null): void {
  const assemblies = (design?.supply.zones ?? []).map((zone) => zone.assemblyAt);
  const { context, palette } = brush;
  onScreen(brush);
  for (const source of Object.values(plan.sources)) {
    paintSymbol(brush, 'water-source', placeOnScreen(brush, source.at), 20);
  }
  for (const valve of Object.values(plan.valves)) {
    if (assemblies.some((place) => distanceM(place, valve.at) < 1)) continue;
    const at = placeOnScreen(brush, valve.at);
    context.strokeStyle = palette.ink.ink;
    context.lineWidth = WEIGHT_PX.thin;
    context.strokeRect(at.x - 12, at.y - 9, 24, 18);
  }
  for (const controller of Object.values(plan.controllers)) {
    const at = placeOnScreen(brush, controller.at);
    context.fillStyle = palette.ink.paper;
    context.fillRect(at.x - 9, at.y - 7, 18, 14);
    context.strokeStyle = palette.ink.ink;
    context.lineWidth = WEIGHT_PX.mid;
    context.strokeRect(at.x - 9, at.y - 7, 18, 14);
    context.beginPath();
    context.moveTo(at.x, at.y + 2);
    context.lineTo(at.x, at.y - 3);
    context.moveTo(at.x, at.y);
    context.lineTo(at.x + 4, at.y + 2);
    context.stroke();
  }
}
