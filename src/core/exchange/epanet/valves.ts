import type { LossCurve } from '../../catalog';
import type { NetworkLink } from '../../hydraulics';
import { type Reading, readNumber } from './reading';
import type { DataLine } from './sections';

/**
 * One valve of a network file: PRV (a regulator at its setting, its local loss when open) or GPV (a device with a curve
 * of head loss against flow). Other types are refused by name: null, with a problem.
 */
export function readValve(
  reading: Reading,
  { words, where }: DataLine,
  closed: ReadonlyMap<string, boolean>,
): NetworkLink | null {
  const { units, problems } = reading;
  const [id, from, to, diameter, type, setting, loss] = words;
  const ends = { id: id!, from: from ?? '', to: to ?? '' };
  const kind = type?.toUpperCase();
  const say = (code: string, text: string) => {
    problems.push({ code: `exchange.inp-${code}`, severity: 'stop', where, params: { text } });
    return null;
  };
  const diameterM = readNumber(diameter, where, problems, 'diameter') * units.diameterM;
  const lossK = loss === undefined ? 0 : readNumber(loss, where, problems, 'minor loss');
  if (!(diameterM > 0)) return say('bad-number', diameter ?? '');
  const open: LossCurve = {
    kind: 'quadratic',
    kSI: (units.constants.localLossCoefficient * lossK) / diameterM ** 4,
    offsetM: 0,
  };
  if (kind === 'PRV') {
    if (closed.get(ends.id) === false) return { ...ends, kind: 'device', device: 'fitting', loss: open };
    const setHeadM = readNumber(setting, where, problems, 'setting') * units.pressureM;
    return { ...ends, kind: 'regulator', setHeadM, droop: 0, loss: open, minInletHeadM: setHeadM };
  }
  if (kind !== 'GPV') return say('refuses-valve', `${id} ${type ?? ''}`.trim());
  const points = readCurve(reading, setting ?? '');
  if (points.length === 0) return say('unknown-id', setting ?? '');
  return { ...ends, kind: 'device', device: 'fitting', loss: { kind: 'points', points } };
}

function readCurve(
  reading: Reading,
  id: string,
): readonly { readonly flowM3s: number; readonly headM: number }[] {
  const { units, problems, sections } = reading;
  return (sections.get('CURVES') ?? [])
    .filter(({ words }) => words[0] === id)
    .map(({ words, where }) => ({
      flowM3s: readNumber(words[1], where, problems, 'flow') * units.flowM3s,
      headM: readNumber(words[2], where, problems, 'head loss') * units.lengthM,
    }));
}
