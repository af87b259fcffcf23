import type { Design, ZoneForesight } from '../../design';
import {
  type BuildError,
  differ,
  type FaultFingerprints,
  type Fingerprint,
  type FoundPressure,
} from '../../supply';
import type { Printer } from '../../units';
import { sheetText, foresightText as words } from '../../words';
import { type Block, paragraphParts } from '../blocks';
import { markedRuns } from '../figures';
import { type Table, tableBlock } from '../table';

const MARK = { layer: 'tables' };
/** A table of what is foreseen, with the note under it: the same on screen and on paper. */
export interface ForeseenTable {
  readonly table: Table;
  readonly note: string;
}

function withNote({ table, note }: ForeseenTable): Block {
  const block = tableBlock(table);
  return { ...block, parts: (widthMm) => [...block.parts(widthMm), ...paragraphParts(MARK, note, widthMm)] };
}

const foreseen = (design: Design): readonly ZoneForesight[] => design.foresight?.zones ?? [];

const isKnown = <T>(value: T | null): value is T => value !== null;

function foundRow(found: FoundPressure, print: Printer): string[] {
  const zone = `V${found.zoneNumber}`;
  const { asDrawnFromM, expectFromM, mostM } = found;
  if (expectFromM === null || expectFromM > mostM) return [zone, '', '', words.never];
  const asDrawn =
    asDrawnFromM === null || asDrawnFromM > mostM ? '' : words.from(print.pressure(asDrawnFromM));
  const failing = found.limits.filter(
    ({ staticHeadM }) => staticHeadM === null || staticHeadM > expectFromM + 1e-9,
  );
  const expect =
    failing.length === 0
      ? words.none
      : `${words.between(print.pressure(expectFromM), print.pressure(Math.min(asDrawnFromM ?? mostM, mostM)))}: ${failing
          .map(({ code }) => words.limits[code])
          .join(', ')}`;
  return [zone, asDrawn, expect, words.outside(print.pressure(expectFromM), print.pressure(mostM))];
}

/** What to do with the pressure a crew finds, zone by zone; null until it is foreseen. */
function foundTable(design: Design, print: Printer): ForeseenTable | null {
  const found = foreseen(design)
    .map((zone) => zone.found)
    .filter(isKnown);
  if (found.length === 0) return null;
  const fallM = Math.max(...found.map(({ seasonFallM }) => seasonFallM));
  return {
    table: {
      key: 'found-pressure',
      title: words.tables.found,
      flexible: 2,
      columns: [
        { title: sheetText.heads.zone, bold: true },
        { title: words.heads.asDrawn, water: true },
        { title: words.heads.expect },
        { title: words.heads.stop, water: true },
      ],
      rows: found.map((one) => foundRow(one, print)),
    },
    note: words.foundNote(fallM > 0 ? print.pressure(fallM) : null),
  };
}

/** How surely each zone comes out as wanted, and the one error that matters most; null until it is foreseen. */
function toleranceTable(design: Design, print: Printer): ForeseenTable | null {
  const all = foreseen(design)
    .map((zone) => zone.tolerance)
    .filter(isKnown);
  if (all.length === 0) return null;
  return {
    table: {
      key: 'build-tolerance',
      title: words.tables.tolerance,
      flexible: 4,
      columns: [
        { title: sheetText.heads.zone, bold: true },
        { title: words.heads.good, align: 'end' },
        { title: words.heads.uniformity, align: 'end' },
        { title: words.heads.spare, align: 'end', water: true },
        { title: words.heads.matters },
      ],
      rows: all.map((one) => [
        `V${one.zoneNumber}`,
        words.outOfTen(one.bothRatio),
        print.percent(one.distributionUniformity.mean),
        print.pressure(one.marginM.mean),
        mattersMost(one.errors[0], print),
      ]),
    },
    note: words.toleranceNote(Math.min(...all.map(({ trialCount }) => trialCount))),
  };
}

function mattersMost(error: BuildError | undefined, print: Printer): string {
  if (!error) return '';
  const name = words.errors[error.code];
  return error.marginUsedRatio >= 1
    ? words.breaks(name)
    : words.takes(name, print.percent(error.marginUsedRatio));
}

interface FaultRow {
  readonly text: string;
  readonly readings: readonly (readonly [number, number])[];
}

/** Faults of one name whose readings a gauge does not tell apart, as one row with the span of their readings. */
function faultRows(prints: FaultFingerprints, nameOf: (fault: Fingerprint) => string): FaultRow[] {
  const rows: { text: string; readings: [number, number][] }[] = [];
  for (const fault of prints.faults) {
    const heads = prints.best.map((point) => fault.headM[point]!);
    const text = nameOf(fault);
    const same = rows.find(
      (row) => row.text === text && row.readings.every(([low], i) => !differ(low, heads[i]!)),
    );
    if (same)
      same.readings = same.readings.map(([low, high], i) => [
        Math.min(low, heads[i]!),
        Math.max(high, heads[i]!),
      ]);
    else rows.push({ text, readings: heads.map((head) => [head, head]) });
  }
  return rows;
}

function faultTable(design: Design, prints: FaultFingerprints, print: Printer): ForeseenTable {
  const runMark = new Map(
    design.beds.flatMap((bed) => markedRuns(bed).map(({ run, mark }) => [run.id, mark] as const)),
  );
  const bedMark = new Map(design.beds.map((bed) => [bed.layout.bedId, bed.mark]));
  const nameOf = ({ code, runId, amount }: Fingerprint): string => {
    const name = words.faults[code];
    if (typeof name === 'string') return name;
    return runId === null
      ? name(print.pressure(amount ?? 0), '')
      : name(runMark.get(runId) ?? '', print.percent(amount ?? 0));
  };
  const pointName = (point: number): string => {
    const { kind, ofId } = prints.points[point]!;
    const name = words.points[kind];
    return typeof name === 'string' ? name : name(runMark.get(ofId ?? '') ?? bedMark.get(ofId ?? '') ?? '');
  };
  const sound = prints.best.map((point) => prints.soundHeadM[point]!);
  const rows = faultRows(prints, nameOf);
  const isSeen = ({ readings }: FaultRow): boolean =>
    readings.some(([low, high], i) => differ(low, sound[i]!) || differ(high, sound[i]!));
  const pressure = (headM: number): string => print.pressure(Math.max(0, headM));
  const unseen = [...new Set(rows.filter((row) => !isSeen(row)).map(({ text }) => text))];
  return {
    table: {
      key: `faults-${prints.zoneId}`,
      title: words.tables.faults(prints.zoneNumber),
      columns: [
        { title: words.heads.fault },
        ...prints.best.map((point) => ({ title: pointName(point), align: 'end' as const, water: true })),
      ],
      rows: [
        [words.asDrawn, ...sound.map(pressure)],
        ...rows
          .filter(isSeen)
          .map(({ text, readings }) => [
            text,
            ...readings.map(([low, high]) => words.range(pressure(low), pressure(high))),
          ]),
      ],
    },
    note: unseen.length === 0 ? '' : words.unseen(unseen.join(', ')),
  };
}

/** Everything foreseen of a design as tables, in the order a crew wants them; none until it is foreseen. */
export function foresightTables(design: Design, print: Printer): readonly ForeseenTable[] {
  const faults = foreseen(design)
    .map((zone) => zone.fingerprints)
    .filter(isKnown)
    .map((prints) => faultTable(design, prints, print));
  return [foundTable(design, print), ...faults, toleranceTable(design, print)].filter(isKnown);
}

/** The same as blocks of a page. */
export function foresightBlocks(design: Design, print: Printer): readonly Block[] {
  return foresightTables(design, print).map(withNote);
}
