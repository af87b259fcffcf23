import { type PaperPoint, SegmentIndex } from '../../geometry';
import { type InkSegment, segmentEnters, type TurnedBox } from './ink';

/** A line is looked along in boxes no longer than this: one box round a slanting line would hold half the page. */
const PIECE_MM = 4;
/** At both ends of a line so much is not looked at: it may begin or end on a printed line. */
const ENDS_MM = 0.4;
const HALF_LINE_MM = 0.02;

/** Printed segments found by place. */
export class InkIndex {
  private readonly index: SegmentIndex;
  private readonly widestMm: number;

  constructor(private readonly segments: readonly InkSegment[]) {
    this.widestMm = segments.reduce((most, segment) => Math.max(most, segment.halfWidthMm), 0);
    this.index = SegmentIndex.ofPaths(
      segments.map((s) => [
        { x: s.a.x, y: s.a.y },
        { x: s.b.x, y: s.b.y },
      ]),
    );
  }

  /** Segments that may come into a box grown by the widest stroke, in the order they were given. */
  near(box: TurnedBox): readonly InkSegment[] {
    const [c, s] = [Math.abs(Math.cos(box.angleRad)), Math.abs(Math.sin(box.angleRad))];
    const reachX = box.halfWidthMm * c + box.halfHeightMm * s + this.widestMm;
    const reachY = box.halfWidthMm * s + box.halfHeightMm * c + this.widestMm;
    return this.index
      .touching({
        minX: box.x - reachX,
        minY: box.y - reachY,
        maxX: box.x + reachX,
        maxY: box.y + reachY,
      })
      .map((found) => this.segments[found.chain]!);
  }

  /** How many printed lines a straight line crosses between its ends, counted no further than `most`. */
  crossings(a: PaperPoint, b: PaperPoint, most: number): number {
    const lengthMm = Math.hypot(b.x - a.x, b.y - a.y);
    const line: TurnedBox = {
      x: (a.x + b.x) / 2,
      y: (a.y + b.y) / 2,
      halfWidthMm: Math.max(0.01, lengthMm / 2 - ENDS_MM),
      halfHeightMm: HALF_LINE_MM,
      angleRad: -Math.atan2(b.y - a.y, b.x - a.x),
    };
    const pieces = Math.ceil(lengthMm / PIECE_MM);
    const aroundMm = this.widestMm + HALF_LINE_MM;
    const crossed = new Set<number>();
    for (let k = 0; k < pieces && crossed.size < most; k++) {
      const [fromX, toX] = [a.x + ((b.x - a.x) * k) / pieces, a.x + ((b.x - a.x) * (k + 1)) / pieces];
      const [fromY, toY] = [a.y + ((b.y - a.y) * k) / pieces, a.y + ((b.y - a.y) * (k + 1)) / pieces];
      const piece = {
        minX: Math.min(fromX, toX) - aroundMm,
        minY: Math.min(fromY, toY) - aroundMm,
        maxX: Math.max(fromX, toX) + aroundMm,
        maxY: Math.max(fromY, toY) + aroundMm,
      };
      for (const { chain } of this.index.touching(piece))
        if (segmentEnters(line, this.segments[chain]!, 0)) crossed.add(chain);
    }
    return Math.min(crossed.size, most);
  }
}
