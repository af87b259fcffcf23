import { type Design, withForesight } from '../core/design';
import { drawCalculations, drawSheetSet, type PaperKey } from '../core/drawing';
import {
  cutsCsv,
  designJsonText,
  emittersJsonText,
  orderCsv,
  scheduleCsv,
  takeoffCsv,
  writeDxf,
  writeGeoJson,
  writeIcal,
  writeZoneInp,
} from '../core/exchange';
import { type FontBytes, renderPdf } from '../render';

/** What the outputs need beside the design. */
export interface OutputContext {
  readonly fonts: FontBytes;
  readonly paper: PaperKey | null;
  readonly scaleDenominator: number | null;
}

/** One kind of output: its files, made from the design. */
interface OutputKind {
  /** The name as `--only` takes it. */
  readonly name: string;
  /** Made only when asked for by name. */
  readonly onDemand?: boolean;
  readonly make: (design: Design, context: OutputContext) => readonly OutputFile[];
}

export interface OutputFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const text = (name: string, body: string): readonly OutputFile[] => [
  { name, bytes: new TextEncoder().encode(body) },
];

/** The starts of this year for any calendar; written at `now`, named by the zones' numbers. */
function calendarText(design: Design, now: Date): string {
  const zoneNames = Object.fromEntries(
    design.supply.zones.map((zone) => [zone.id, `${zone.number} ${zone.name}`.trim()]),
  );
  return writeIcal(design.schedule, {
    year: now.getUTCFullYear(),
    stamp: now.toISOString().replace(/[-:]|\.\d+/g, ''),
    planId: design.plan.id,
    zoneNames,
  });
}

/** Every output there is, in the order in which they are listed. */
export const OUTPUTS: readonly OutputKind[] = [
  {
    name: 'install-sheet.pdf',
    make: (design, { fonts, paper, scaleDenominator }) => [
      {
        name: 'install-sheet.pdf',
        bytes: renderPdf(drawSheetSet(withForesight(design), { paper, scaleDenominator }), fonts),
      },
    ],
  },
  {
    name: 'calculations.pdf',
    make: (design, { fonts }) => [
      { name: 'calculations.pdf', bytes: renderPdf(drawCalculations(design), fonts) },
    ],
  },
  { name: 'plan.geojson', make: (design) => text('plan.geojson', writeGeoJson(design)) },
  { name: 'plan.dxf', make: (design) => text('plan.dxf', writeDxf(design)) },
  { name: 'takeoff.csv', make: (design) => text('takeoff.csv', takeoffCsv(design)) },
  { name: 'cuts.csv', make: (design) => text('cuts.csv', cutsCsv(design)) },
  { name: 'order.csv', make: (design) => text('order.csv', orderCsv(design)) },
  { name: 'schedule.csv', make: (design) => text('schedule.csv', scheduleCsv(design)) },
  {
    name: 'zone.inp',
    make: (design) =>
      design.supply.zones.flatMap((zone) => text(`zone-${zone.number}.inp`, writeZoneInp(zone))),
  },
  { name: 'design.json', make: (design) => text('design.json', designJsonText(design)) },
  {
    name: 'calendar.ics',
    onDemand: true,
    make: (design) => text('calendar.ics', calendarText(design, new Date())),
  },
  {
    name: 'emitters.json',
    onDemand: true,
    make: (design) => text('emitters.json', emittersJsonText(design)),
  },
];

/** The kinds wanted: all but those made on demand, or those named. Names nobody knows are given back. */
export function chooseOutputs(only: readonly string[] | null): {
  readonly kinds: readonly OutputKind[];
  readonly unknown: readonly string[];
} {
  if (only === null) return { kinds: OUTPUTS.filter((kind) => kind.onDemand !== true), unknown: [] };
  const matches = (kind: OutputKind, name: string): boolean =>
    kind.name === name || kind.name.replace(/\.[a-z]+$/, '') === name;
  return {
    kinds: OUTPUTS.filter((kind) => only.some((name) => matches(kind, name))),
    unknown: only.filter((name) => !OUTPUTS.some((kind) => matches(kind, name))),
  };
}
