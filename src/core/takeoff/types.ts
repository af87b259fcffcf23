import type { Problem } from '../units';

export interface TakeoffLine {
  readonly part: string;
  readonly description: string;
  /** Metres, or pieces; `toBuy` says how many rolls, sticks, packs or cans that takes. */
  readonly quantity: number;
  readonly unit: 'm' | 'each' | 'roll' | 'stick' | 'pack' | 'can';
  /** Length of one roll or stick, where the unit is one. */
  readonly eachM?: number;
  /** What the supplier hands over: whole packs of so many pieces. Absent where one piece is one item. */
  readonly packs?: { readonly count: number; readonly packOf: number };
  /** Where the count comes from: run, join, pipe or zone ids. */
  readonly from: readonly string[];
  /** Of the whole line; null where the catalogue holds no price. */
  readonly price: number | null;
}

/** A piece cut from a roll. */
export interface Cut {
  readonly rollNumber: number;
  readonly rollLengthM: number;
  /** Part of the roll: a dripline, or blank tubing. */
  readonly driplineId: string;
  readonly runId: string;
  /** Stretch of the run that the piece lays. */
  readonly fromM: number;
  readonly toM: number;
  /** Length to cut: the stretch with its waste. */
  readonly lengthM: number;
  /** The run goes on from another roll at this end. */
  readonly spliceAtEnd: boolean;
}

/** How good the choice of rolls of one part is: what is bought, and the least that could be. */
export interface CuttingProof {
  readonly part: string;
  readonly boughtM: number;
  /** No choice of whole rolls that lays every piece buys less than this. */
  readonly leastM: number;
  /** True where what is bought is the least possible. */
  readonly isProven: boolean;
}

export interface Takeoff {
  readonly lines: readonly TakeoffLine[];
  readonly cuts: readonly Cut[];
  readonly rolls: readonly {
    readonly number: number;
    readonly driplineId: string;
    readonly lengthM: number;
    readonly leftM: number;
  }[];
  readonly cutting?: readonly CuttingProof[];
  readonly labour: readonly {
    readonly task: string;
    readonly hours: number;
    readonly quantity: number;
    readonly unit: string;
    /** Hours for one unit. */
    readonly rate: number;
  }[];
  readonly labourHours: number;
  readonly cost: number | null;
  readonly problems: readonly Problem[];
}
