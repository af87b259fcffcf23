import type { Plan, Underlay } from '../../../core/plan';
import { underlayPicture } from '../../state/underlayPictures';
import { type Brush, onPlan, pixelsM } from './brush';

/** Pictures and faint references under everything else. */
export function paintUnderlays(brush: Brush, plan: Plan, onReady: () => void): void {
  const { context } = brush;
  for (const underlay of Object.values(plan.underlays)) {
    onPlan(brush);
    context.globalAlpha = 1 - underlay.fadeRatio;
    if (underlay.kind === 'picture') {
      context.globalAlpha *= brush.palette.pictureRatio;
      const picture = underlayPicture(underlay.name, underlay.dataUri, onReady);
      if (picture) {
        context.translate(underlay.originX, underlay.originY);
        context.rotate(underlay.turnRad);
        const highM = underlay.heightPx * underlay.metresPerPixel;
        context.translate(0, highM);
        context.scale(underlay.metresPerPixel, -underlay.metresPerPixel);
        context.drawImage(picture, 0, 0, underlay.widthPx, underlay.heightPx);
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
