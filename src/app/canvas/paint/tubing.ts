import {
  areNeighboursSought,
  type Design,
  type DesignedBed,
  dryBetween,
  type WettedGround,
  wettedGround,
} from '../../../core/design';
import type { Ink } from '../../../core/drawing';
import { boxesTouch, boxOfAll, ringsOf } from '../../../core/geometry';
import type { Overlays } from '../../state/desk';
import type { PressureRamp } from '../shape/pressure';
import { pathOfRings } from '../shape/trace';
import { type TubingShape, tubingShape } from '../shape/tubing';
import { type Brush, onPlan, pixelsM, WEIGHT_PX, weightM } from './brush';
import { paintDots } from './dots';
import { paintWetted } from './wetted';

/** Tubing swells with pressure: width of each class, CSS pixels. */
const SWELL_PX = [1.2, 1.5, 1.9, 2.3, 2.8, 3.3] as const;
/** Closer than this, ticks would run together into a fringe. */
const LEAST_TICK_SPACING_PX = 9;
const TICK_PX = 4;

const ringMemory = new WeakMap<DesignedBed, ReturnType<typeof ringsOf>>();

function usableRings(bed: DesignedBed): ReturnType<typeof ringsOf> {
  const known = ringMemory.get(bed);
  if (known) return known;
  const rings = ringsOf(bed.layout.usable);
  ringMemory.set(bed, rings);
  return rings;
}

function isInSight(brush: Brush, bed: DesignedBed): boolean {
  const box = boxOfAll(ringsOf(bed.layout.outline));
  return box === null || boxesTouch(box, brush.sight);
}

/** Everything laid in the beds: keep-off dots, wetted ground, tubing by pressure, a tick an emitter. */
export function paintTubing(
  brush: Brush,
  design: Design,
  ramp: PressureRamp | null,
  overlays: Overlays,
): void {
  const zones = new Map(design.supply.zones.map((zone) => [zone.id, zone]));
  const seen = design.beds.filter((bed) => isInSight(brush, bed));
  const shapeOf = (bed: DesignedBed): TubingShape => {
    const zone = bed.zoneId === null ? null : (zones.get(bed.zoneId) ?? null);
    return tubingShape(bed, zone, overlays.pressure ? ramp : null);
  };
  if (overlays.wetted)
    paintWetted(
      brush,
      seen.map((bed) => {
        const { low, high } = bed.choice.wettedDiameterM;
        return { ticks: shapeOf(bed).ticks, lowM: low, highM: high };
      }),
    );
  onPlan(brush);
  for (const bed of seen) {
    const shape = shapeOf(bed);
    paintOffset(brush, bed);
    if (overlays.gaps) paintGaps(brush, bed);
    if (overlays.wetted) paintDry(brush, bed);
    paintLines(brush, shape);
    const spacingPx = shape.emitterSpacingM * brush.view.pixelsPerM;
    if (spacingPx >= LEAST_TICK_SPACING_PX) paintTicks(brush, shape);
  }
  if (!overlays.emitters) return;
  paintDots(
    brush,
    seen
      .map(shapeOf)
      .filter((shape) => shape.emitterSpacingM * brush.view.pixelsPerM < LEAST_TICK_SPACING_PX)
      .map((shape) => shape.ticks),
  );
}

function paintOffset(brush: Brush, bed: DesignedBed): void {
  const { context, palette, view } = brush;
  if (view.pixelsPerM < 14) return;
  context.strokeStyle = palette.ink['ink-3'];
  context.lineWidth = weightM(brush, WEIGHT_PX.thin);
  context.setLineDash([pixelsM(brush, 1), pixelsM(brush, 3)]);
  context.stroke(pathOfRings(usableRings(bed)));
  context.setLineDash([]);
}

function paintGaps(brush: Brush, bed: DesignedBed): void {
  const { context, palette } = brush;
  context.strokeStyle = palette.ink.check;
  context.lineWidth = weightM(brush, WEIGHT_PX.mid);
  const radius = pixelsM(brush, 4);
  context.beginPath();
  for (const gap of bed.layout.coverage.gaps) {
    context.moveTo(gap.x + radius, gap.y);
    context.arc(gap.x, gap.y, radius, 0, 2 * Math.PI);
  }
  context.stroke();
}

const dryMemory = new WeakMap<DesignedBed, WettedGround | null>();

/** Ground between neighbouring emitters that the drier model leaves dry where the rows lie worst to each other. */
function paintDry(brush: Brush, bed: DesignedBed): void {
  if (!areNeighboursSought(bed)) return;
  if (!dryMemory.has(bed)) dryMemory.set(bed, wettedGround(bed));
  const gaps = dryMemory.get(bed)?.narrow.gaps ?? [];
  const { context, palette } = brush;
  context.strokeStyle = palette.ink.check;
  context.lineWidth = weightM(brush, WEIGHT_PX.thin);
  context.beginPath();
  for (const gap of gaps) {
    const [a, b] = dryBetween(gap, bed.choice.wettedDiameterM.low, pixelsM(brush, 2));
    context.moveTo(a.x, a.y);
    context.lineTo(b.x, b.y);
  }
  context.stroke();
}

function paintLines(brush: Brush, shape: TubingShape): void {
  const { context, palette } = brush;
  context.lineJoin = 'round';
  context.lineCap = 'butt';
  context.strokeStyle = palette.ink['ink-2'];
  context.lineWidth = weightM(brush, WEIGHT_PX.mid);
  context.stroke(shape.plain);
  shape.byClass.forEach((path, index) => {
    context.strokeStyle = shape.isSolved ? palette.ink[`ramp-${index + 1}` as Ink] : palette.ink.water;
    context.lineWidth = weightM(brush, shape.isSolved ? (SWELL_PX[index] ?? 2) : 1.6);
    context.stroke(path);
  });
}

function paintTicks(brush: Brush, shape: TubingShape): void {
  const { context, palette, sight } = brush;
  const lengthM = pixelsM(brush, TICK_PX);
  const { ticks } = shape;
  context.beginPath();
  for (let at = 0; at < ticks.length; at += 4) {
    const [x, y] = [ticks[at] ?? 0, ticks[at + 1] ?? 0];
    if (x < sight.minX || x > sight.maxX || y < sight.minY || y > sight.maxY) continue;
    context.moveTo(x, y);
    context.lineTo(x + (ticks[at + 2] ?? 0) * lengthM, y + (ticks[at + 3] ?? 0) * lengthM);
  }
  context.strokeStyle = palette.ink.water;
  context.lineWidth = weightM(brush, WEIGHT_PX.thin);
  context.stroke();
}
