/** A stretch of a run, metres along it, that is left open on paper for the mark set into it. */
export interface RowGap {
  readonly fromM: number;
  readonly toM: number;
}

/** The group of everything that is drawn of a run. */
export const runGroup = (runId: string): string => `run:${runId}`;
