import { type Brush, onPlan, WEIGHT_PX, weightM } from './brush';

/** Circles smaller than this on the screen are shown as wash alone: their edges would be a blot. */
const LEAST_RINGED_PX = 14;

/** Emitters of one bed, four numbers each with the place first, and how wide one wets by each of the two models. */
export interface WettedBed {
  readonly ticks: Float32Array;
  readonly lowM: number;
  readonly highM: number;
}

let sheet: HTMLCanvasElement | null = null;

/** A canvas of the picture's size to put circles together on: their edges shall be drawn where they end together, not one by one. */
function sheetLike(brush: Brush): CanvasRenderingContext2D | null {
  sheet ??= document.createElement('canvas');
  const { width, height } = brush.context.canvas;
  if (sheet.width !== width || sheet.height !== height) {
    sheet.width = width;
    sheet.height = height;
  }
  const context = sheet.getContext('2d');
  if (!context) return null;
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.globalCompositeOperation = 'source-over';
  context.clearRect(0, 0, width, height);
  return context;
}

/** The emitters in sight as points of a path: stroked with round ends, each becomes a circle. */
function emittersInSight({ sight }: Brush, { ticks, highM }: WettedBed): Path2D {
  const path = new Path2D();
  for (let at = 0; at < ticks.length; at += 4) {
    const [x, y] = [ticks[at] ?? 0, ticks[at + 1] ?? 0];
    if (x < sight.minX - highM || x > sight.maxX + highM) continue;
    if (y < sight.minY - highM || y > sight.maxY + highM) continue;
    path.moveTo(x, y);
    path.lineTo(x, y);
  }
  return path;
}

interface Circles {
  readonly path: Path2D;
  readonly diameterM: number;
}

/** Circles of one model: an edge round all of them together, and a wash inside where one is given. */
function paintTogether(
  context: CanvasRenderingContext2D,
  circles: readonly Circles[],
  edge: { readonly ink: string; readonly widthM: number } | null,
  wash: string | null,
): void {
  context.lineCap = 'round';
  const stroke = (mode: GlobalCompositeOperation, ink: string, extraM: number): void => {
    context.globalCompositeOperation = mode;
    context.strokeStyle = ink;
    for (const { path, diameterM } of circles) {
      context.lineWidth = diameterM + extraM;
      context.stroke(path);
    }
  };
  if (edge) {
    stroke('source-over', edge.ink, 2 * edge.widthM);
    stroke('destination-out', '#000', 0);
  }
  if (wash) stroke('destination-over', wash, 0);
}

/** Wetted ground by both wetting models: washed to where the one that wets less says, lined to where the one that wets more does. */
export function paintWetted(brush: Brush, beds: readonly WettedBed[]): void {
  const context = sheetLike(brush);
  if (!context || beds.length === 0) return;
  const { palette, view } = brush;
  onPlan({ ...brush, context });
  const paths = beds.map((bed) => emittersInSight(brush, bed));
  const circlesOf = (model: 'lowM' | 'highM'): Circles[] =>
    beds.map((bed, index) => ({ path: paths[index] ?? new Path2D(), diameterM: bed[model] }));
  const isRinged = Math.min(...beds.map(({ lowM }) => lowM)) * view.pixelsPerM >= LEAST_RINGED_PX;
  const widthM = weightM(brush, WEIGHT_PX.hair);
  if (isRinged) paintTogether(context, circlesOf('highM'), { ink: palette.ink['ink-3'], widthM }, null);
  const wash = palette.hasFills ? palette.ink['water-wash'] : palette.ink['rule-faint'];
  paintTogether(
    context,
    circlesOf('lowM'),
    isRinged ? { ink: palette.ink.water, widthM } : null,
    palette.hasFills || !isRinged ? wash : null,
  );
  brush.context.save();
  brush.context.setTransform(1, 0, 0, 1, 0, 0);
  brush.context.drawImage(context.canvas, 0, 0);
  brush.context.restore();
}
