import type { Design } from '../../core/design';
import { during } from './busy';
import { isStale, say, useDesk } from './desk';

/** How far a design must have come: its figures settled, or also everything foreseen of it, which the sheet prints. */
export type Stage = 'settled' | 'foreseen';

/** The design of the very plan on the desk, where it has come so far. */
function designAt(stage: Stage): Design | null {
  const state = useDesk.getState();
  const { design } = state;
  if (design === null || isStale(state) || design.quality !== 'finished') return null;
  return stage === 'settled' || design.foresight !== null || design.supply.zones.length === 0 ? design : null;
}

/** Waits for it; an answer that never comes (the design was stopped, or broke off) is null. */
const comingDesign = (stage: Stage, signal: AbortSignal): Promise<Design | null> =>
  new Promise((resolve) => {
    const look = (): void => {
      const design = designAt(stage);
      const { engineFault, isWorking } = useDesk.getState();
      // A first pass that nobody works on any more was stopped: its finish never comes.
      const isComing = engineFault === '' && (isWorking || designAt('settled') !== null);
      if (design === null && isComing && !signal.aborted) return;
      stopLooking();
      resolve(design);
    };
    const stopLooking = useDesk.subscribe(look);
    signal.addEventListener('abort', look);
    look();
  });

/** The finished design of the very plan on the desk, waited for if need be; null, with the reason said, where there is none. */
export async function readyDesign(
  stage: Stage,
  lack = 'There is no finished design to hand over.',
): Promise<Design | null> {
  const design =
    designAt(stage) ?? (await during('Finishing the design first', (signal) => comingDesign(stage, signal)));
  if (design === null) say(lack, 'note', 'It is worked out again after the next edit.');
  return design;
}

/**
 * Takes something out of the design into the plan, once the design is that of the very plan on the desk: what was found for an
 * older plan fits no longer. Where there is no such design that is said, and nothing is kept.
 */
export async function keepOfDesign(keep: (design: Design) => void): Promise<void> {
  const design = await readyDesign('settled', 'There is no finished design to keep anything of.');
  if (design === null) return;
  // Another act that waited as well may have changed the plan just before this one.
  if (design === designAt('settled')) keep(design);
  else await keepOfDesign(keep);
}
