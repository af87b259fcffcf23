import type { LayStep } from '../takeoff';
import { METRES_PER_INCH, type Printer } from '../units';

/** What a tape is read to: a quarter inch, or 5 mm. */
const READ_TO = { us: METRES_PER_INCH / 4, metric: 0.005 } as const;
/** A change of heading smaller than this is not told: the stakes of the two ends tell it better. */
const TOLD_BEAR_RAD = (10 * Math.PI) / 180;

/** A reading of a tape: feet, inches and quarters, or metres to 5 mm. */
export function tapeText(lengthM: number, print: Printer): string {
  const step = READ_TO[print.system];
  return print.fine(Math.round(lengthM / step) * step);
}

/** A small distance by a pocket rule, to the same fineness. */
function ruleText(lengthM: number, print: Printer): string {
  const step = READ_TO[print.system];
  return print.small(Math.round(lengthM / step) * step);
}

const sideOf = (angleRad: number): string => (angleRad > 0 ? 'left' : 'right');
const degrees = (angleRad: number): string => `${Math.round((Math.abs(angleRad) * 180) / Math.PI)}°`;

/** Everything the lay script prints. */
export const layWords = {
  title: 'Lay script',
  bed: (name: string) => `Lay ${name}`,
  roles: {
    loop: 'loop',
    'centre-row': 'centre row',
    'single-row': 'single row',
    lateral: 'lateral',
    ring: 'ring',
    connector: 'Plain piece',
    lead: 'Lead from the stub-up',
  },
  run: (mark: string, role: string, length: string, emitters: number, isOneStraight: boolean) =>
    `${mark === '' ? '' : `${mark}, `}${role}: ${length}${emitters === 0 ? '' : `, ${emitters} emitters`}${isOneStraight ? ', straight' : ''}`,
  how: 'Hook a tape on each T; where the two readings cross, set a flag. Left and right are yours, facing the way you lay. Count emitters from the beginning of the run.',
  spot: (number: number, what: string) => `T${number}: ${what}`,
  sideLine: (first: number, second: number, side: 'left' | 'right') =>
    `Facing T${second} from T${first}, all flags are on the ${side}.`,
  sideEach: (first: number, second: number) =>
    `Facing T${second} from T${first}, flags are on the side each line says.`,
  noSpots: 'Nothing fixed stands within reach of a tape: lay by counting, and check by the row spacing.',
  tie: (first: number, firstReading: string, second: number, secondReading: string, side: string) =>
    `T${first} ${firstReading}, T${second} ${secondReading}${side === '' ? '' : `, ${side}`}`,
  count: (emitter: number, past: string) =>
    emitter === 0
      ? `${past} from the start`
      : past === ''
        ? `emitter ${emitter}`
        : `emitter ${emitter} + ${past}`,
} as const;

/** How far past an emitter, or nothing where it is, to what is printed, the emitter itself or the next. */
export function countText(
  step: { readonly emitter: number; readonly pastM: number; readonly beforeNextM: number | null },
  print: Printer,
): string {
  const isNothing = (m: number): boolean => Number.parseFloat(ruleText(m, print)) === 0;
  if (step.beforeNextM !== null && isNothing(step.beforeNextM)) return layWords.count(step.emitter + 1, '');
  const past = ruleText(step.pastM, print);
  return layWords.count(step.emitter, step.emitter > 0 && Number.parseFloat(past) === 0 ? '' : past);
}

/** One step as the foreman reads it aloud. `markOf` names another run by its mark. */
export function sayLayStep(step: LayStep, print: Printer, markOf: (runId: string) => string): string {
  switch (step.kind) {
    case 'begin':
      return step.rollNumber === null ? 'Begin here.' : `Begin here with roll ${step.rollNumber}.`;
    case 'straight':
    case 'turn':
    case 'curve':
      return sayMove(step, print);
    case 'splice':
      return step.fromRoll === step.toRoll
        ? `Splice; go on with roll ${step.toRoll}.`
        : `Splice: roll ${step.fromRoll} ends, roll ${step.toRoll} goes on.`;
    case 'join':
      return sayJoin(step, markOf);
    case 'end':
      return step.closes ? 'Back at the beginning: flush, then close at the tee.' : 'End of the run.';
  }
}

function sayMove(
  step: Extract<LayStep, { readonly kind: 'straight' | 'turn' | 'curve' }>,
  print: Printer,
): string {
  const bears = Math.abs(step.bearRad) >= TOLD_BEAR_RAD;
  const bear = bears ? `Bear ${sideOf(step.bearRad)} ${degrees(step.bearRad)}, ` : '';
  const length = tapeText(step.alongM - step.fromM, print);
  const told =
    step.kind === 'straight'
      ? `straight ${length}`
      : step.kind === 'turn'
        ? `turn ${sideOf(step.sweepRad)} ${degrees(step.sweepRad)}, ${ruleText(step.chordM, print)} across`
        : `curve ${sideOf(step.sweepRad)} ${length}, bow ${ruleText(step.bowM, print)}`;
  return `${bear}${bears ? told : told.charAt(0).toUpperCase() + told.slice(1)}.`;
}

function sayJoin(
  step: Extract<LayStep, { readonly kind: 'join' }>,
  markOf: (runId: string) => string,
): string {
  const others = step.runIds
    .map(markOf)
    .filter((mark) => mark !== '')
    .join(', ');
  if (step.fitting === 'flush-valve') return 'Flush valve here, where the two flows meet.';
  if (step.fitting === 'stub-up-tee') return 'Tee of the stub-up here.';
  return others === '' ? 'Tee here.' : `Tee here: ${others} joins.`;
}
