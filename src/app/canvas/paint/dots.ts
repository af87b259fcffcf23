import { type Brush, onPlan, onScreen } from './brush';

/** Larger than this, a dot is a round one; smaller, it is written straight into the picture's pixels. */
const LEAST_ROUND_PX = 3;
const DOT_M = 0.02;

let sheet: { canvas: HTMLCanvasElement; image: ImageData; pixels: Uint32Array } | null = null;

function sheetFor(width: number, height: number): NonNullable<typeof sheet> {
  if (sheet && sheet.image.width === width && sheet.image.height === height) return sheet;
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const image = new ImageData(width, height);
  sheet = { canvas, image, pixels: new Uint32Array(image.data.buffer) };
  return sheet;
}

/** A colour "#rrggbb" as one little-endian pixel. */
function pixelOf(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
  return ((255 << 24) | ((b ?? 0) << 16) | ((g ?? 0) << 8) | (r ?? 0)) >>> 0;
}

/** A dot for every emitter, however many: pixels when tiny, culled arcs when large. */
export function paintDots(brush: Brush, sets: readonly Float32Array[]): void {
  if (sets.length === 0) return;
  if (DOT_M * brush.view.pixelsPerM >= LEAST_ROUND_PX) paintRoundDots(brush, sets);
  else paintPixels(brush, sets);
  onPlan(brush);
}

function paintRoundDots(brush: Brush, sets: readonly Float32Array[]): void {
  const { context, palette, sight } = brush;
  onPlan(brush);
  context.beginPath();
  for (const set of sets) {
    for (let at = 0; at < set.length; at += 4) {
      const [x, y] = [set[at] ?? 0, set[at + 1] ?? 0];
      if (x < sight.minX || x > sight.maxX || y < sight.minY || y > sight.maxY) continue;
      context.moveTo(x + DOT_M, y);
      context.arc(x, y, DOT_M, 0, 2 * Math.PI);
    }
  }
  context.fillStyle = palette.ink.water;
  context.fill();
}

function paintPixels(brush: Brush, sets: readonly Float32Array[]): void {
  const { context, palette, view, deviceRatio } = brush;
  const { width, height } = context.canvas;
  const { canvas, image, pixels } = sheetFor(width, height);
  pixels.fill(0);
  const ink = pixelOf(palette.ink.water);
  const scale = view.pixelsPerM * deviceRatio;
  const [left, top] = [view.screen.x * deviceRatio, view.screen.y * deviceRatio];
  for (const set of sets) {
    for (let at = 0; at < set.length; at += 4) {
      const x = ((set[at] ?? 0) * scale + left) | 0;
      const y = (top - (set[at + 1] ?? 0) * scale) | 0;
      if (x < 0 || y < 0 || x >= width - 1 || y >= height - 1) continue;
      const place = y * width + x;
      pixels[place] = ink;
      pixels[place + 1] = ink;
      pixels[place + width] = ink;
      pixels[place + width + 1] = ink;
    }
  }
  canvas.getContext('2d')?.putImageData(image, 0, 0);
  onScreen(brush);
  context.drawImage(canvas, 0, 0, width / deviceRatio, height / deviceRatio);
}
