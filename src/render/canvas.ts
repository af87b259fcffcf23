import type { DrawingItem, DrawingPage, PathStep, Stroke } from '../core/drawing';
import { faceStyle } from './fonts';
import type { Look } from './looks';

/** Where a page lies on the canvas, and what of it is shown. */
export interface PaperView {
  /** Canvas pixels of one paper millimetre. */
  readonly pixelsPerMm: number;
  /** Canvas pixel of the page's top left corner. */
  readonly offsetX: number;
  readonly offsetY: number;
  readonly hiddenLayers?: ReadonlySet<string>;
  /** Decoded pictures by data URI; one that is missing is left out. */
  readonly pictures?: ReadonlyMap<string, CanvasImageSource>;
  /** False leaves the paper itself unpainted. */
  readonly paper?: boolean;
}

function trace(context: CanvasRenderingContext2D, steps: readonly PathStep[]): void {
  context.beginPath();
  for (const step of steps) {
    switch (step[0]) {
      case 'M':
        context.moveTo(step[1], step[2]);
        break;
      case 'L':
        context.lineTo(step[1], step[2]);
        break;
      case 'C':
        context.bezierCurveTo(step[1], step[2], step[3], step[4], step[5], step[6]);
        break;
      case 'Z':
        context.closePath();
        break;
    }
  }
}

function setStroke(context: CanvasRenderingContext2D, stroke: Stroke, look: Look): void {
  context.strokeStyle = look[stroke.ink];
  context.lineWidth = stroke.widthMm;
  context.lineCap = stroke.cap ?? 'butt';
  context.lineJoin = stroke.join ?? 'round';
  context.setLineDash(stroke.dashMm ? [...stroke.dashMm] : []);
}

function paintDots(
  context: CanvasRenderingContext2D,
  item: Extract<DrawingItem, { kind: 'dots' }>,
  look: Look,
): void {
  context.beginPath();
  for (const p of item.at) {
    context.moveTo(p.x, p.y);
    context.lineTo(p.x, p.y);
  }
  setStroke(context, { ink: item.ink, widthMm: item.diameterMm, cap: 'round' }, look);
  context.stroke();
}

function paintText(
  context: CanvasRenderingContext2D,
  item: Extract<DrawingItem, { kind: 'text' }>,
  look: Look,
): void {
  const face = faceStyle(item.font);
  context.save();
  context.translate(item.at.x, item.at.y);
  if (item.angleRad) context.rotate(-item.angleRad);
  // Browsers round or refuse type below one pixel, so the em is set at 100 and scaled down.
  context.scale(item.sizeMm / 100, item.sizeMm / 100);
  context.font = `${face.style} ${face.weight} 100px '${face.family}', sans-serif`;
  context.fontKerning = 'none';
  context.textAlign = item.anchor === 'middle' ? 'center' : item.anchor === 'end' ? 'right' : 'left';
  context.textBaseline = 'alphabetic';
  context.fillStyle = look[item.ink];
  context.fillText(item.text, 0, 0);
  context.restore();
}

function paintItem(context: CanvasRenderingContext2D, item: DrawingItem, look: Look, view: PaperView): void {
  if (view.hiddenLayers?.has(item.layer)) return;
  switch (item.kind) {
    case 'path':
      trace(context, item.steps);
      if (item.fill) {
        context.fillStyle = look[item.fill];
        context.fill(item.evenOdd ? 'evenodd' : 'nonzero');
      }
      if (item.stroke) {
        setStroke(context, item.stroke, look);
        context.stroke();
      }
      return;
    case 'dots':
      paintDots(context, item, look);
      return;
    case 'text':
      paintText(context, item, look);
      return;
    case 'image': {
      const picture = view.pictures?.get(item.dataUri);
      if (!picture) return;
      context.save();
      context.translate(item.at.x, item.at.y);
      context.rotate(-item.angleRad);
      context.globalAlpha = item.opacityRatio;
      context.drawImage(picture, 0, 0, item.widthMm, item.heightMm);
      context.restore();
      return;
    }
    case 'clip':
      context.save();
      trace(context, item.steps);
      context.clip();
      for (const child of item.items) paintItem(context, child, look, view);
      context.restore();
      return;
  }
}

/** Paints one page. The context's own state is as before afterwards; fonts must already be loaded by the page. */
export function paintCanvas(
  context: CanvasRenderingContext2D,
  page: DrawingPage,
  look: Look,
  view: PaperView,
): void {
  context.save();
  context.translate(view.offsetX, view.offsetY);
  context.scale(view.pixelsPerMm, view.pixelsPerMm);
  if (view.paper !== false) {
    context.fillStyle = look.paper;
    context.fillRect(0, 0, page.widthMm, page.heightMm);
  }
  for (const item of page.items) paintItem(context, item, look, view);
  context.restore();
}
