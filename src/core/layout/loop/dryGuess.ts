import { boxOfAll, type Region } from '../../geometry';
import { cutAt, type Interval } from './intervals';

/** Ground further than this many spacings from a row is left dry. */
const DRY_RATIO = 0.55;
/** A tooth thinner than this share of the least separation is cut away where it is (see teeth). */
const NECK_RATIO = 0.96;
/** Ground too thin for a tooth takes a spur, which costs this share of what leaving it dry does. */
const THIN_WEIGHT = 0.25;
/** Upright lines lie this many to a spacing, and no more of them than this in all; heights along them likewise. */
const LINES_A_ROW = 4;
const MOST_LINES = 240;
const HEIGHTS_A_ROW = 10;
const MOST_HEIGHTS = 800;
/** Rows end in a turn that waters this many spacings beyond what a straight row would. */
const TURN_REACH_RATIO = 0.4;

/**
 * Ground cut by upright lines, to guess from the heights of rows alone how much of it they would leave dry. Rows run along x.
 * What no row reaches is mostly beside shoulders of a bed between two rows, and in bands cut away because the ground leaves
 * them thinner than two runs.
 */
export class DryGuess {
  private readonly columns: readonly (readonly Interval[])[];
  private readonly minY: number;
  private readonly stepX: number;
  private readonly stepY: number;
  private readonly heights: number;

  constructor(
    ground: Region,
    private readonly spacingM: number,
    private readonly minSeparationM: number,
  ) {
    const box = boxOfAll(ground)!;
    const lines = clamp(Math.ceil((LINES_A_ROW * (box.maxX - box.minX)) / spacingM), 1, MOST_LINES);
    this.heights = clamp(Math.ceil((HEIGHTS_A_ROW * (box.maxY - box.minY)) / spacingM), 1, MOST_HEIGHTS);
    this.minY = box.minY;
    this.stepX = (box.maxX - box.minX) / lines;
    this.stepY = (box.maxY - box.minY) / this.heights;
    const onItsSide = ground.map((ring) => ring.map(({ x, y }) => ({ x: y, y: x })));
    this.columns = Array.from({ length: lines }, (_, line) =>
      cutAt(onItsSide, box.minX + (line + 0.5) * this.stepX),
    );
  }

  /**
   * Ground that rows at these heights would leave dry, m2: what lies before a row's end is watered by its turn, and ground where
   * a tooth is only too thin takes a spur and counts less.
   */
  dryM2(levels: readonly number[]): number {
    const { heights, columns } = this;
    const turnLines = Math.round((TURN_REACH_RATIO * this.spacingM) / this.stepX);
    const sinceWet = new Int32Array(heights).fill(turnLines);
    const dryLines = new Int32Array(heights);
    const dryWeight = new Float64Array(heights);
    let cells = 0;
    const end = (height: number, isWet: boolean): void => {
      const lines = dryLines[height]!;
      if (lines === 0) return;
      cells += dryWeight[height]! * (isWet ? Math.max(0, 1 - turnLines / lines) : 1);
      dryLines[height] = 0;
      dryWeight[height] = 0;
    };
    for (const column of columns) {
      const state = this.stateOf(column, levels);
      for (let height = 0; height < heights; height++) {
        const here = state[height]!;
        if (here === NONE || here === WET) {
          end(height, here === WET);
          sinceWet[height] = here === WET ? 0 : turnLines;
        } else if (sinceWet[height]! < turnLines) sinceWet[height]!++;
        else {
          dryLines[height]!++;
          dryWeight[height]! += here === THIN ? THIN_WEIGHT : 1;
        }
      }
    }
    for (let height = 0; height < heights; height++) end(height, false);
    return cells * this.stepX * this.stepY;
  }

  /** What each height of an upright line is. */
  private stateOf(column: readonly Interval[], levels: readonly number[]): Uint8Array {
    const state = new Uint8Array(this.heights);
    const { rows, thin } = this.rowsOn(column, levels);
    const reachM = DRY_RATIO * this.spacingM;
    let row = 0;
    for (const [from, to] of column) {
      const last = Math.min(this.heights - 1, this.heightAt(to));
      for (let height = Math.max(0, this.heightAt(from) + 1); height <= last; height++) {
        const y = this.minY + (height + 0.5) * this.stepY;
        while (row < rows.length && rows[row]! < y - reachM) row++;
        const isWet = row < rows.length && rows[row]! <= y + reachM;
        const isThin = !isWet && thin.some(([low, high]) => y > low - reachM && y < high + reachM);
        state[height] = isWet ? WET : isThin ? THIN : DRY;
      }
    }
    return state;
  }

  private heightAt(y: number): number {
    return Math.floor((y - this.minY) / this.stepY - 0.5);
  }

  /** Heights at which tubing crosses an upright line, ascending: top and bottom of each tooth thick enough there; and the teeth that are not. */
  private rowsOn(
    column: readonly Interval[],
    levels: readonly number[],
  ): { rows: number[]; thin: Interval[] } {
    const rows: number[] = [];
    const thin: Interval[] = [];
    for (let band = 0; band + 1 < levels.length; band += 2) {
      const [low, high] = [levels[band]!, levels[band + 1]!];
      let bottom = Number.POSITIVE_INFINITY;
      let top = Number.NEGATIVE_INFINITY;
      for (const [from, to] of column) {
        if (to <= low || from >= high) continue;
        bottom = Math.min(bottom, Math.max(from, low));
        top = Math.max(top, Math.min(to, high));
      }
      if (top - bottom >= NECK_RATIO * this.minSeparationM) rows.push(bottom, top);
      else if (top > bottom) thin.push([bottom, top]);
    }
    return { rows, thin };
  }
}

const NONE = 0;
const WET = 1;
const THIN = 2;
const DRY = 3;

const clamp = (value: number, least: number, most: number): number => Math.max(least, Math.min(most, value));
