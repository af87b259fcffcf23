import { HEAD_M_PER_PSI, M3S_PER_GPM, METRES_PER_INCH, type Source } from '../units';
import type { Assembly, Backflow, LossCurve, Meter } from './types';

const TYPICAL: Source = {
  text: 'typical, from memory; replace with the figures of the part on the job',
  standing: 'typical',
};
const C700: Source = {
  text: 'AWWA C700 safe maximum and 15 psi loss there, falling with the square of flow; from memory',
  standing: 'from memory',
};

/** Working pressure of valves, filters, regulators, meters and backflow preventers as usually marked, 150 psi. */
const TYPICAL_RATING_M = 150 * HEAD_M_PER_PSI;

/** A loss with a spring's part (always there) and a part that grows with the square of flow to `psiAtFull` at `fullGpm`. */
function lossThrough(offsetPsi: number, psiAtFull: number, fullGpm: number): LossCurve {
  const fullM3s = fullGpm * M3S_PER_GPM;
  return {
    kind: 'quadratic',
    offsetM: offsetPsi * HEAD_M_PER_PSI,
    kSI: (psiAtFull * HEAD_M_PER_PSI) / (fullM3s * fullM3s),
  };
}

interface AssemblyRow {
  readonly id: string;
  readonly name: string;
  readonly class: Assembly['class'];
  readonly minGpm: number;
  readonly maxGpm: number;
  readonly settingsPsi: readonly number[];
  readonly connection: string;
  readonly box: string;
}
const ASSEMBLIES: readonly AssemblyRow[] = [
  {
    id: 'assembly-low-flow',
    name: 'Valve assembly, low flow',
    class: 'low-flow',
    minGpm: 0.2,
    maxGpm: 4.4,
    settingsPsi: [15, 25, 40],
    connection: '3/4 in',
    box: 'box-12in',
  },
  {
    id: 'assembly-high-flow',
    name: 'Valve assembly, high flow',
    class: 'high-flow',
    minGpm: 4.4,
    maxGpm: 20,
    settingsPsi: [15, 25, 40],
    connection: '1 in',
    box: 'box-14x19in',
  },
  {
    id: 'assembly-high-flow-large',
    name: 'Valve assembly, high flow, large',
    class: 'high-flow',
    minGpm: 15,
    maxGpm: 44,
    settingsPsi: [25, 40],
    connection: '1-1/2 in',
    box: 'box-14x19in',
  },
];

/** Losses: valve 1.5 psi of spring and 3 psi at full flow; filter 2 psi clean and 7 psi loaded; regulator wants 5 psi over its setting. */
function assembly(row: AssemblyRow, settingPsi: number): Assembly {
  return {
    kind: 'assembly',
    id: `${row.id}-${settingPsi}psi`,
    name: row.name,
    source: TYPICAL,
    class: row.class,
    minFlowM3s: row.minGpm * M3S_PER_GPM,
    maxFlowM3s: row.maxGpm * M3S_PER_GPM,
    regulatedHeadM: settingPsi * HEAD_M_PER_PSI,
    regulatorMinInletHeadM: (settingPsi + 5) * HEAD_M_PER_PSI,
    regulatorDroop: (2 * HEAD_M_PER_PSI) / (row.maxGpm * M3S_PER_GPM),
    valveLoss: lossThrough(1.5, 3, row.maxGpm),
    filterLossClean: lossThrough(0, 2, row.maxGpm),
    filterLossLoaded: lossThrough(0, 7, row.maxGpm),
    filterMesh: 150,
    connection: row.connection,
    box: row.box,
    maxHeadM: TYPICAL_RATING_M,
  };
}

/** Typical valve, filter and regulator assemblies: low flow 0.2 to 4.4 gpm, high flow above, at the usual settings. */
export const TYPICAL_ASSEMBLIES: readonly Assembly[] = ASSEMBLIES.flatMap((row) =>
  row.settingsPsi.map((psi) => assembly(row, psi)),
);

function meter(size: string, sizeIn: number, maxGpm: number, continuousGpm: number): Meter {
  return {
    kind: 'meter',
    id: `meter-${size.replace('/', '.')}`,
    name: `Water meter, ${size} in`,
    source: C700,
    sizeM: sizeIn * METRES_PER_INCH,
    maxContinuousFlowM3s: continuousGpm * M3S_PER_GPM,
    loss: lossThrough(0, 15, maxGpm),
    maxHeadM: TYPICAL_RATING_M,
  };
}
/** Displacement meters by size. */
export const TYPICAL_METERS: readonly Meter[] = [
  meter('5/8', 5 / 8, 20, 10),
  meter('3/4', 3 / 4, 30, 15),
  meter('1', 1, 50, 25),
  meter('1-1/2', 1.5, 100, 50),
  meter('2', 2, 160, 80),
];

interface BackflowRow {
  readonly type: Backflow['type'];
  readonly short: string;
  readonly name: string;
  readonly offsetPsi: number;
  readonly fullPsi: number;
  readonly heightIn: number | null;
}
const BACKFLOWS: readonly BackflowRow[] = [
  {
    type: 'pressure-vacuum-breaker',
    short: 'pvb',
    name: 'Pressure vacuum breaker',
    offsetPsi: 2,
    fullPsi: 4,
    heightIn: 12,
  },
  {
    type: 'reduced-pressure',
    short: 'rp',
    name: 'Reduced pressure assembly',
    offsetPsi: 10,
    fullPsi: 4,
    heightIn: null,
  },
  {
    type: 'double-check',
    short: 'dc',
    name: 'Double check assembly',
    offsetPsi: 3,
    fullPsi: 5,
    heightIn: null,
  },
  {
    type: 'atmospheric-vacuum-breaker',
    short: 'avb',
    name: 'Atmospheric vacuum breaker',
    offsetPsi: 2,
    fullPsi: 3,
    heightIn: 6,
  },
  { type: 'air-gap', short: 'air-gap', name: 'Air gap', offsetPsi: 0, fullPsi: 0, heightIn: null },
];
/** Flow at which a device of this size shows its full loss: about 7.5 ft/s in the pipe. */
const BACKFLOW_SIZES = [
  { size: '3/4', inches: 0.75, fullGpm: 15 },
  { size: '1', inches: 1, fullGpm: 25 },
  { size: '1-1/2', inches: 1.5, fullGpm: 55 },
] as const;

/** Backflow preventers by type and size. Which type is allowed is the local code's to say. */
export const TYPICAL_BACKFLOWS: readonly Backflow[] = BACKFLOWS.flatMap((row) =>
  BACKFLOW_SIZES.map(
    (size): Backflow => ({
      kind: 'backflow',
      id: `backflow-${row.short}-${size.size.replace('/', '.')}`,
      name: `${row.name}, ${size.size} in`,
      source: TYPICAL,
      type: row.type,
      sizeM: size.inches * METRES_PER_INCH,
      loss: lossThrough(row.offsetPsi, row.fullPsi, size.fullGpm),
      minHeightAboveHighestOutletM: row.heightIn === null ? null : row.heightIn * METRES_PER_INCH,
      maxHeadM: TYPICAL_RATING_M,
    }),
  ),
);
