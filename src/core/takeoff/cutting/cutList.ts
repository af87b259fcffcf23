import type { Join, Run } from '../../layout';
import type { Problem } from '../../units';
import type { Cut, CuttingProof, Takeoff } from '../types';
import { packPieces } from './pack';
import { type Piece, splitRun } from './pieces';

/** Runs of one tubing, with the joins they take part in. */
export interface TubingDemand {
  readonly part: string;
  readonly rollLengthsM: readonly number[];
  readonly runs: readonly { readonly run: Run; readonly joins: readonly Join[] }[];
}

/** Rolls to buy, which roll serves which run, and how close to the least possible that is. */
export interface CutList {
  readonly rolls: Takeoff['rolls'];
  readonly cuts: readonly Cut[];
  readonly proof: CuttingProof;
  readonly splices: readonly { readonly runId: string; readonly alongM: number }[];
  readonly problems: readonly Problem[];
}

const MM_PER_M = 1000;

/**
 * Cuts the runs of one tubing from whole rolls: fewest splices first, then the least length bought.
 * Each cut is the stretch it lays and its share of waste.
 *
 * @param firstNumber  number written on the first roll
 * @param wasteRatio   0.05: five metres more for every hundred
 */
export function cutRuns(demand: TubingDemand, wasteRatio: number, firstNumber: number): CutList {
  const rollsMm = [...new Set(demand.rollLengthsM.map((m) => Math.floor(m * MM_PER_M + 1e-6)))].sort(
    (a, b) => a - b,
  );
  const stretch = 1 + wasteRatio;
  const longestM = (rollsMm.at(-1)! - 1) / MM_PER_M / stretch;
  const splits = demand.runs.map(({ run, joins }) => splitRun(run, joins, longestM));
  const pieces = splits.flatMap((split) => split.pieces);
  const packing = packPieces(
    pieces.map((piece) => Math.ceil((piece.toM - piece.fromM) * stretch * MM_PER_M - 1e-6)),
    rollsMm,
  );
  const cutOf = (piece: Piece, rollNumber: number, rollLengthM: number): Cut => ({
    rollNumber,
    rollLengthM,
    driplineId: demand.part,
    runId: piece.runId,
    fromM: piece.fromM,
    toM: piece.toM,
    lengthM: (piece.toM - piece.fromM) * stretch,
    spliceAtEnd: piece.spliceAtEnd,
  });
  const cuts = packing.rolls.flatMap((roll, i) =>
    roll.pieces.map((piece) => cutOf(pieces[piece]!, firstNumber + i, roll.lengthMm / MM_PER_M)),
  );
  const rolls = packing.rolls.map((roll, i) => ({
    number: firstNumber + i,
    driplineId: demand.part,
    lengthM: roll.lengthMm / MM_PER_M,
    leftM:
      roll.lengthMm / MM_PER_M -
      cuts.filter((cut) => cut.rollNumber === firstNumber + i).reduce((sum, cut) => sum + cut.lengthM, 0),
  }));
  return {
    rolls,
    cuts,
    proof: {
      part: demand.part,
      boughtM: packing.boughtMm / MM_PER_M,
      leastM: packing.leastMm / MM_PER_M,
      isProven: packing.isProven,
    },
    splices: pieces.filter((piece) => piece.spliceAtEnd).map(({ runId, toM }) => ({ runId, alongM: toM })),
    problems: splits.flatMap((split, i) =>
      split.isNearTee
        ? [
            {
              code: 'takeoff.splice-near-tee',
              severity: 'warn' as const,
              where: { id: demand.runs[i]!.run.id },
              params: { lengthM: demand.runs[i]!.run.lengthM },
            },
          ]
        : [],
    ),
  };
}
