import { setting } from '../catalog';
import type { Run } from '../layout';
import type { Problem, Source } from '../units';
import type { ReviewedBed, Rule } from './types';

const SOLVED: Source = {
  text: 'longest run that keeps the wanted uniformity, every length solved; evenness by Keller and Karmeli (1974)',
  standing: 'published',
};

/** Runs whose water comes in at one end only. */
const FED_AT_ONE_END: ReadonlySet<Run['role']> = new Set(['single-row', 'lateral']);

/**
 * How long a run may be: a closed loop as long as was solved for, an open run half of that, because it is one leg of such a
 * loop (exact on level ground, by symmetry).
 */
function limitOf(bed: ReviewedBed, run: Run): number | null {
  if (run.emittersM.length === 0) return null;
  if (run.role === 'loop') return bed.runLimitM;
  return FED_AT_ONE_END.has(run.role) && !run.closed ? bed.runLimitM / 2 : null;
}

/** True where routing has said it already, because it was held to this very limit. */
const isSaidByRouting = (run: Run, ownLimitM: number | null, limitM: number): boolean =>
  run.role === 'loop' && (ownLimitM === null || ownLimitM <= limitM);

/** The longest run of each bed against the longest that its tubing holds the wanted uniformity along. */
export const runLength: Rule = ({ plan, beds }) =>
  beds.flatMap((bed): Problem[] => {
    if (bed.layout.status !== 'routed') return [];
    const ownLimitM = plan.beds[bed.sourceBedId]?.maxRunM ?? null;
    const worst = bed.layout.runs
      .flatMap((run) => {
        const limitM = limitOf(bed, run);
        if (limitM === null || isSaidByRouting(run, ownLimitM, limitM)) return [];
        return run.lengthM > limitM ? [{ run, limitM }] : [];
      })
      .sort((a, b) => b.run.lengthM / b.limitM - a.run.lengthM / a.limitM)[0];
    if (!worst) return [];
    const { run, limitM } = worst;
    return [
      {
        code: 'review.run-too-long',
        severity: 'warn',
        where: { id: bed.sourceBedId, x: run.startsAt.x, y: run.startsAt.y },
        params: {
          bed: bed.name,
          run: run.id,
          lengthM: run.lengthM,
          limitM,
          wantedRatio: setting(plan.settings, 'uniformityWantedRatio'),
          fedAt: run.role === 'loop' ? 'both ends' : 'one end',
        },
        value: run.lengthM,
        limit: limitM,
        unit: 'm',
        source: SOLVED,
        ...(ownLimitM !== null && ownLimitM > bed.runLimitM
          ? {
              mends: [
                {
                  words: 'review.mend-solved-run-limit',
                  command: 'set-bed',
                  params: { id: bed.sourceBedId, changes: { maxRunM: null } },
                },
              ],
            }
          : {}),
      },
    ];
  });
