import type { BedLayout, Run } from './types';

/** Runs with emitters, each with the mark it carries on the plan and in every table: the bed's letter and a number in laying order. */
export function markedRunsOf(
  layout: BedLayout,
  bedMark: string,
): readonly { readonly run: Run; readonly mark: string }[] {
  return layout.runs
    .filter((run) => run.emittersM.length > 0)
    .map((run, i) => ({ run, mark: `${bedMark}${i + 1}` }));
}
