import type { Problem } from '../units';

export interface TakeoffLine {
  readonly part: string;
  readonly description: string;
  readonly quantity: number;
  readonly unit: 'm' | 'each' | 'roll' | 'stick' | 'pack' | 'can';
  /** Where the count comes from: run, join, pipe or zone ids. */
  readonly from: readonly string[];
  readonly price: number | null;
}

/** A piece cut from a roll. */
export interface Cut {
  readonly rollNumber: number;
  readonly rollLengthM: number;
  readonly driplineId: string;
  readonly runId: string;
  readonly fromM: number;
  readonly toM: number;
  readonly lengthM: number;
  /** The run goes on from another roll at this end. */
  readonly spliceAtEnd: boolean;
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
  readonly labour: readonly {
    readonly task: string;
    readonly hours: number;
    readonly quantity: number;
    readonly unit: string;
    readonly rate: number;
  }[];
  readonly labourHours: number;
  readonly cost: number | null;
  readonly problems: readonly Problem[];
}
