import type { ScreenView } from '../../core/geometry';
import type { Palette } from '../look/palette';
import { boxInSight } from '../state/view';
import type { Brush } from './paint/brush';
import { paintScene, type Scene } from './paint/scene';

/** A picture that takes longer than this is moved as a bitmap and drawn sharp once the hand is still. */
const HEAVY_MS = 8;
const LIGHT_MS = 5;
/** Extra ground on every side of the bitmap, as a share of the screen, so that a short pan uncovers nothing. */
const MARGIN_RATIO = 0.3;

export interface Frame {
  readonly view: ScreenView;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly deviceRatio: number;
  readonly palette: Palette;
  readonly scene: Scene;
  /** False while the view is moving under the hand. */
  readonly isStill: boolean;
}

export interface Plate {
  draw(context: CanvasRenderingContext2D, frame: Frame): void;
}

/**
 * The one place that decides how a frame is made: straight onto the canvas while that is quick, else through a bitmap
 * that moves with the view and is drawn again when the plan changes or the view comes to rest.
 */
export function createPlate(): Plate {
  const bitmap = document.createElement('canvas');
  let isHeavy = false;
  let drawn: (Frame & { readonly marginX: number; readonly marginY: number }) | null = null;

  const paintSharp = (
    context: CanvasRenderingContext2D,
    frame: Frame,
    marginX: number,
    marginY: number,
  ): void => {
    const began = performance.now();
    const { view } = frame;
    const shifted = { ...view, screen: { x: view.screen.x + marginX, y: view.screen.y + marginY } };
    const brush: Brush = {
      context,
      palette: frame.palette,
      view: shifted,
      deviceRatio: frame.deviceRatio,
      sight: boxInSight(
        { view: shifted, widthPx: frame.widthPx + 2 * marginX, heightPx: frame.heightPx + 2 * marginY },
        30,
      ),
    };
    context.save();
    paintScene(brush, frame.scene);
    context.restore();
    const tookMs = performance.now() - began;
    isHeavy = tookMs > (isHeavy ? LIGHT_MS : HEAVY_MS);
  };

  const paintBitmap = (frame: Frame): void => {
    const marginX = Math.round(frame.widthPx * MARGIN_RATIO);
    const marginY = Math.round(frame.heightPx * MARGIN_RATIO);
    const width = Math.round((frame.widthPx + 2 * marginX) * frame.deviceRatio);
    const height = Math.round((frame.heightPx + 2 * marginY) * frame.deviceRatio);
    if (bitmap.width !== width || bitmap.height !== height) {
      bitmap.width = width;
      bitmap.height = height;
    }
    const context = bitmap.getContext('2d');
    if (!context) return;
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.clearRect(0, 0, width, height);
    paintSharp(context, frame, marginX, marginY);
    drawn = { ...frame, marginX, marginY };
  };

  const blit = (context: CanvasRenderingContext2D, frame: Frame, from: NonNullable<typeof drawn>): void => {
    const ratio = frame.view.pixelsPerM / from.view.pixelsPerM;
    context.save();
    context.setTransform(frame.deviceRatio, 0, 0, frame.deviceRatio, 0, 0);
    context.imageSmoothingEnabled = ratio !== 1;
    context.drawImage(
      bitmap,
      frame.view.screen.x - (from.view.screen.x + from.marginX) * ratio,
      frame.view.screen.y - (from.view.screen.y + from.marginY) * ratio,
      (bitmap.width / frame.deviceRatio) * ratio,
      (bitmap.height / frame.deviceRatio) * ratio,
    );
    context.restore();
  };

  return {
    draw(context, frame) {
      if (!isHeavy) {
        drawn = null;
        paintSharp(context, frame, 0, 0);
        return;
      }
      const isFresh =
        drawn !== null &&
        drawn.scene === frame.scene &&
        drawn.palette === frame.palette &&
        drawn.deviceRatio === frame.deviceRatio &&
        drawn.widthPx === frame.widthPx &&
        drawn.heightPx === frame.heightPx;
      const isMoved = drawn !== null && drawn.view !== frame.view;
      if (!isFresh || (isMoved && frame.isStill)) paintBitmap(frame);
      if (drawn) blit(context, frame, drawn);
    },
  };
}
