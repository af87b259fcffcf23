import { HEAD_M_PER_PSI, METRES_PER_FOOT, METRES_PER_INCH, type Source } from '../units';
import type { Pipe } from './types';

type Material = Pipe['material'];
/** nominal, outside diameter in, wall or inside diameter in, rated psi at 73 F. */
type Row = readonly [nominal: string, outsideIn: number, insideIn: number, ratedPsi: number];

const D1785: Source = {
  text: 'ASTM D1785 Schedule 40: outside diameter less two minimum walls; ratings from memory',
  standing: 'published',
};
const D2241: Source = {
  text: 'ASTM D2241 SDR 21: outside diameter less two minimum walls (walls from memory, checked against OD/21)',
  standing: 'from memory',
};
const D2239: Source = {
  text: 'ASTM D2239 controlled inside diameter, equal to Schedule 40; from memory',
  standing: 'from memory',
};
const B88: Source = { text: 'ASTM B88 type L; from memory', standing: 'from memory' };
const TYPICAL: Source = { text: 'typical of 17 mm blank tubing, from memory', standing: 'typical' };

const SCHEDULE_40: readonly Row[] = [
  ['1/2', 0.84, 0.84 - 2 * 0.109, 600],
  ['3/4', 1.05, 1.05 - 2 * 0.113, 480],
  ['1', 1.315, 1.315 - 2 * 0.133, 450],
  ['1-1/4', 1.66, 1.66 - 2 * 0.14, 370],
  ['1-1/2', 1.9, 1.9 - 2 * 0.145, 330],
  ['2', 2.375, 2.375 - 2 * 0.154, 280],
  ['2-1/2', 2.875, 2.875 - 2 * 0.203, 300],
  ['3', 3.5, 3.5 - 2 * 0.216, 260],
];
const SLEEVES: readonly Row[] = [
  ['1-1/2', 1.9, 1.9 - 2 * 0.145, 330],
  ['2', 2.375, 2.375 - 2 * 0.154, 280],
  ['2-1/2', 2.875, 2.875 - 2 * 0.203, 300],
  ['3', 3.5, 3.5 - 2 * 0.216, 260],
  ['4', 4.5, 4.5 - 2 * 0.237, 220],
  ['6', 6.625, 6.625 - 2 * 0.28, 180],
];
const CLASS_200: readonly Row[] = [
  ['3/4', 1.05, 1.05 - 2 * 0.06, 200],
  ['1', 1.315, 1.315 - 2 * 0.063, 200],
  ['1-1/4', 1.66, 1.66 - 2 * 0.079, 200],
  ['1-1/2', 1.9, 1.9 - 2 * 0.09, 200],
  ['2', 2.375, 2.375 - 2 * 0.113, 200],
  ['2-1/2', 2.875, 2.875 - 2 * 0.137, 200],
  ['3', 3.5, 3.5 - 2 * 0.167, 200],
];
const PE: readonly Row[] = [
  ['1/2', 0.622 * (1 + 2 / 15), 0.622, 100],
  ['3/4', 0.824 * (1 + 2 / 15), 0.824, 100],
  ['1', 1.049 * (1 + 2 / 15), 1.049, 100],
  ['1-1/4', 1.38 * (1 + 2 / 15), 1.38, 100],
  ['1-1/2', 1.61 * (1 + 2 / 15), 1.61, 100],
  ['2', 2.067 * (1 + 2 / 15), 2.067, 100],
];
const COPPER_L: readonly Row[] = [
  ['1/2', 0.625, 0.545, 400],
  ['3/4', 0.875, 0.785, 400],
  ['1', 1.125, 1.025, 400],
];
const BLANK: readonly Row[] = [['17 mm', 0.67, 0.57, 50]];

const NAMES: Readonly<Record<Material, string>> = {
  'pvc-sch40': 'PVC pipe, Schedule 40',
  'pvc-class200': 'PVC pipe, Class 200',
  pe: 'Polyethylene pipe',
  'blank-tubing': 'Blank tubing, no emitters',
  sleeve: 'Sleeve, PVC Schedule 40',
  copper: 'Copper tube, type L',
};
const STICK_FEET: Readonly<Record<Material, number>> = {
  'pvc-sch40': 20,
  'pvc-class200': 20,
  pe: 100,
  'blank-tubing': 100,
  sleeve: 20,
  copper: 20,
};

function pipe(material: Material, source: Source, row: Row): Pipe {
  const [nominal, outsideIn, insideIn, ratedPsi] = row;
  return {
    kind: 'pipe',
    id: `${material}-${nominal.replaceAll('/', '.').replaceAll(' ', '')}`,
    name: NAMES[material],
    source,
    material,
    nominal: nominal.includes('mm') ? nominal : `${nominal} in`,
    insideDiameterM: insideIn * METRES_PER_INCH,
    outsideDiameterM: outsideIn * METRES_PER_INCH,
    hazenWilliamsC: material === 'copper' ? 140 : 150,
    absoluteRoughnessM: 1.5e-6,
    stickLengthM: STICK_FEET[material] * METRES_PER_FOOT,
    maxHeadM: ratedPsi * HEAD_M_PER_PSI,
    friction: material === 'blank-tubing' || material === 'pe' ? 'darcy-weisbach' : 'hazen-williams',
  };
}

/** Plain pipe by the standards: PVC Schedule 40 and Class 200, polyethylene, copper, blank tubing, sleeves. */
export const TYPICAL_PIPES: readonly Pipe[] = [
  ...SCHEDULE_40.map((row) => pipe('pvc-sch40', D1785, row)),
  ...CLASS_200.map((row) => pipe('pvc-class200', D2241, row)),
  ...PE.map((row) => pipe('pe', D2239, row)),
  ...COPPER_L.map((row) => pipe('copper', B88, row)),
  ...BLANK.map((row) => pipe('blank-tubing', TYPICAL, row)),
  ...SLEEVES.map((row) => pipe('sleeve', D1785, row)),
];
