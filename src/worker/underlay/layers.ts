import { PDF_LIMITS } from '../../core/exchange';

/** A sheet and what draws on it, as the PDF library hands them round; both null once it is given back. */
interface Layer {
  canvas: OffscreenCanvas | null;
  context: OffscreenCanvasRenderingContext2D | null;
}

/** Thrown where more sheets lie over each other than the memory bears. */
export class TooManyLayers extends Error {}

/**
 * Makes the sheets that a page is drawn on, outside the window. Groups and patterns each take a sheet of their own while they are
 * drawn, and a page can nest them without end: all that lie there at once are held to a number of pixels.
 */
export class Layers {
  #livePixels = 0;

  #take(width: number, height: number): void {
    if (!(width > 0 && height > 0)) throw new Error('a sheet without size');
    this.#livePixels += width * height;
    if (this.#livePixels > PDF_LIMITS.layerPixels) throw new TooManyLayers();
  }

  /** A new sheet. */
  create(width: number, height: number): Layer {
    this.#take(width, height);
    const canvas = new OffscreenCanvas(width, height);
    return { canvas, context: canvas.getContext('2d', { willReadFrequently: true }) };
  }

  /** Gives a sheet another size, emptied. */
  reset({ canvas }: Layer, width: number, height: number): void {
    if (canvas === null) throw new Error('a sheet that was given back');
    this.#livePixels -= canvas.width * canvas.height;
    this.#take(width, height);
    canvas.width = width;
    canvas.height = height;
  }

  /** Takes a sheet back. */
  destroy(layer: Layer): void {
    if (layer.canvas === null) return;
    this.#livePixels -= layer.canvas.width * layer.canvas.height;
    layer.canvas.width = 0;
    layer.canvas.height = 0;
    layer.canvas = null;
    layer.context = null;
  }
}

/** Colour filters need a document, which a worker has not: without them a page keeps its plain colours. */
export class NoFilters {
  addFilter(): string {
    return 'none';
  }

  addHCMFilter(): string {
    return 'none';
  }

  addAlphaFilter(): string {
    return 'none';
  }

  addLuminosityFilter(): string {
    return 'none';
  }

  addHighlightHCMFilter(): string {
    return 'none';
  }

  destroy(): void {}
}
