import type { PaperPoint } from '../../geometry';
import { type InkSegment, segmentEnters, type TurnedBox } from './ink';

const CELL_MM = 3;
/** A line is looked along in boxes no longer than this: one box round a slanting line would hold half the page. */
const PIECE_MM = 4;
/** At both ends of a line so much is not looked at: it may begin or end on a printed line. */
const ENDS_MM = 0.4;
const HALF_LINE_MM = 0.02;

/**
 * Printed segments found by place. The paper is cut into squares, each with the numbers of the segments whose boxes come
 * into it: a page asks many thousand times of boxes a few millimetres large, for which this is quicker than a tree.
 */
export class InkIndex {
  private readonly widestMm: number;
  private readonly minX: number;
  private readonly minY: number;
  private readonly columns: number;
  private readonly rows: number;
  /** Where the numbers of each square begin; those of one square end where the next begin. */
  private readonly begins: Int32Array;
  private readonly numbers: Int32Array;
  /** The question in which a segment was last met, so that it is met once in each. */
  private readonly metIn: Int32Array;
  private question = 0;

  constructor(private readonly segments: readonly InkSegment[]) {
    let [minX, minY, maxX, maxY, widestMm] = [1e9, 1e9, -1e9, -1e9, 0];
    for (const { a, b, halfWidthMm } of segments) {
      minX = Math.min(minX, a.x, b.x);
      minY = Math.min(minY, a.y, b.y);
      maxX = Math.max(maxX, a.x, b.x);
      maxY = Math.max(maxY, a.y, b.y);
      widestMm = Math.max(widestMm, halfWidthMm);
    }
    this.widestMm = widestMm;
    this.minX = minX;
    this.minY = minY;
    this.columns = Math.max(1, Math.floor((maxX - minX) / CELL_MM) + 1);
    this.rows = Math.max(1, Math.floor((maxY - minY) / CELL_MM) + 1);
    this.metIn = new Int32Array(segments.length);
    this.begins = new Int32Array(this.columns * this.rows + 1);
    this.eachSquareOfAll((square) => {
      this.begins[square + 1]! += 1;
    });
    for (let i = 1; i < this.begins.length; i++) this.begins[i]! += this.begins[i - 1]!;
    this.numbers = new Int32Array(this.begins[this.begins.length - 1]!);
    const next = this.begins.slice();
    this.eachSquareOfAll((square, number) => {
      this.numbers[next[square]!++] = number;
    });
  }

  private eachSquareOfAll(take: (square: number, number: number) => void): void {
    this.segments.forEach(({ a, b }, number) => {
      this.eachSquare(
        Math.min(a.x, b.x),
        Math.min(a.y, b.y),
        Math.max(a.x, b.x),
        Math.max(a.y, b.y),
        (square) => {
          take(square, number);
        },
      );
    });
  }

  private eachSquare(
    minX: number,
    minY: number,
    maxX: number,
    maxY: number,
    take: (square: number) => void,
  ): void {
    const fromI = Math.max(0, Math.floor((minX - this.minX) / CELL_MM));
    const fromJ = Math.max(0, Math.floor((minY - this.minY) / CELL_MM));
    const toI = Math.min(this.columns - 1, Math.floor((maxX - this.minX) / CELL_MM));
    const toJ = Math.min(this.rows - 1, Math.floor((maxY - this.minY) / CELL_MM));
    for (let j = fromJ; j <= toJ; j++) for (let i = fromI; i <= toI; i++) take(j * this.columns + i);
  }

  /** Hands on the numbers of segments, not met yet in this question, whose boxes touch a box. */
  private eachTouching(
    minX: number,
    minY: number,
    maxX: number,
    maxY: number,
    take: (number: number) => void,
  ): void {
    this.eachSquare(minX, minY, maxX, maxY, (square) => {
      for (let k = this.begins[square]!; k < this.begins[square + 1]!; k++) {
        const number = this.numbers[k]!;
        if (this.metIn[number] === this.question) continue;
        const { a, b } = this.segments[number]!;
        if ((a.x < minX && b.x < minX) || (a.x > maxX && b.x > maxX)) continue;
        if ((a.y < minY && b.y < minY) || (a.y > maxY && b.y > maxY)) continue;
        this.metIn[number] = this.question;
        take(number);
      }
    });
  }

  /** Segments that may come into a box grown by the widest stroke, in the order they were given. */
  near(box: TurnedBox): readonly InkSegment[] {
    const [c, s] = [Math.abs(Math.cos(box.angleRad)), Math.abs(Math.sin(box.angleRad))];
    const reachX = box.halfWidthMm * c + box.halfHeightMm * s + this.widestMm;
    const reachY = box.halfWidthMm * s + box.halfHeightMm * c + this.widestMm;
    const found: number[] = [];
    this.question += 1;
    this.eachTouching(box.x - reachX, box.y - reachY, box.x + reachX, box.y + reachY, (number) => {
      found.push(number);
    });
    return found.sort((one, other) => one - other).map((number) => this.segments[number]!);
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
    let count = 0;
    this.question += 1;
    for (let k = 0; k < pieces && count < most; k++) {
      const [fromX, toX] = [a.x + ((b.x - a.x) * k) / pieces, a.x + ((b.x - a.x) * (k + 1)) / pieces];
      const [fromY, toY] = [a.y + ((b.y - a.y) * k) / pieces, a.y + ((b.y - a.y) * (k + 1)) / pieces];
      this.eachTouching(
        Math.min(fromX, toX) - aroundMm,
        Math.min(fromY, toY) - aroundMm,
        Math.max(fromX, toX) + aroundMm,
        Math.max(fromY, toY) + aroundMm,
        (number) => {
          if (segmentEnters(line, this.segments[number]!, 0)) count += 1;
        },
      );
    }
    return Math.min(count, most);
  }
}
