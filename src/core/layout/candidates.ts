import type { MultiPolygon, Polygon } from '../geometry';
import { contourSketch } from './contour';
import { type Judged, judge } from './judging';
import { lateralSketches } from './laterals';
import { loopSketches } from './loopSketches';
import type { Sketch } from './sketch';
import { stripSketches } from './strips';
import type { LayoutInput } from './types';

/** Every layout tried on one piece of ground, judged, with the router's reason where it found no loop. */
export interface PieceCandidates {
  readonly judged: readonly Judged[];
  readonly refused: string | null;
}

/** Tries the layouts that suit a piece of ground and judges each over it. */
export function candidatesFor(
  piece: Polygon,
  usable: MultiPolygon,
  input: LayoutInput,
  idPrefix: string,
): PieceCandidates {
  const strips = stripSketches(piece, input, input.rowSpacingM);
  const loops = loopSketches(piece, input);
  const directionRad =
    loops.sketches[0]?.directionRad ?? strips[0]?.directionRad ?? input.rowDirectionRad ?? 0;
  const wantsLaterals =
    input.quality === 'finished' || input.layout === 'laterals' || isNamed(input, 'laterals');
  const laterals = wantsLaterals ? lateralSketches(piece, input, input.rowSpacingM, directionRad) : [];
  const wantsContour =
    input.quality === 'finished' || input.layout === 'contour' || isNamed(input, 'contour');
  const contour = wantsContour ? contourSketch(piece, input, input.rowSpacingM) : null;
  const sketches: Sketch[] = [...strips, ...loops.sketches, ...(contour ? [contour] : []), ...laterals];
  return {
    judged: sketches.map((sketch) => judge(keyOf(sketch), [sketch], input, { idPrefix, usable })),
    refused: loops.refused ?? null,
  };
}

function isNamed(input: LayoutInput, layout: string): boolean {
  return (
    input.chosenAlternative?.startsWith(layout) === true || input.previous?.key.startsWith(layout) === true
  );
}

function keyOf(sketch: Sketch): string {
  return sketch.layout === 'laterals' ? `laterals-${sketch.key}` : sketch.key;
}
