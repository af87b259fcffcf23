import type { Plan, Underlay } from '../../../core/plan';
import { type Brush, onPlan, pixelsM } from './brush';

const pictures = new Map<string, HTMLImageElement>();

function pictureOf(underlay: Underlay, onReady: () => void): HTMLImageElement | null {
  const known = pictures.get(underlay.dataUri);
  if (known) return known.complete ? known : null;
  const picture = new Image();
  picture.onload = onReady;
  picture.src = underlay.dataUri;
  pictures.set(underlay.dataUri, picture);
  return null;
}

/** Pictures and faint references under everything else. */
export function paintUnderlays(brush: Brush, plan: Plan, onReady: () => void): void {
  const { context } = brush;
  for (const underlay of Object.values(plan.underlays)) {
    onPlan(brush);
    context.globalAlpha = 1 - underlay.fadeRatio;
    if (underlay.kind === 'picture') {
      const picture = pictureOf(underlay, onReady);
      if (picture) {
        context.translate(underlay.originX, underlay.originY);
        context.rotate(underlay.turnRad);
        const highM = underlay.heightPx * underlay.metresPerPixel;
        context.translate(0, highM);
        context.scale(underlay.metresPerPixel, -underlay.metresPerPixel);
        context.drawImage(picture, 0, 0);
      }
    } else paintReference(brush, underlay.lines);
    context.globalAlpha = 1;
  }
  for (const foreign of Object.values(plan.foreign)) {
    onPlan(brush);
    paintReference(brush, foreign.lines);
  }
}

function paintReference(brush: Brush, lines: Underlay['lines']): void {
  const { context, palette } = brush;
  context.strokeStyle = palette.ink.rule;
  context.lineWidth = pixelsM(brush, 0.8);
  context.beginPath();
  for (const line of lines) {
    line.forEach((point, index) => {
      if (index === 0) context.moveTo(point.x, point.y);
      else context.lineTo(point.x, point.y);
    });
  }
  context.stroke();
}
