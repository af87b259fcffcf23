import type { Source } from '../units';
import type { Fitting } from './types';

const TYPICAL: Source = { text: 'typical pack and loss, from memory', standing: 'typical' };

/** id, name, use, loss K on the velocity head, pieces in a pack. */
type Row = readonly [id: string, name: string, use: string, lossK: number, packOf: number];
const ROWS: readonly Row[] = [
  ['tubing-tee', 'Tubing tee, barbed', 'tee', 1.5, 10],
  ['tubing-elbow', 'Tubing elbow, barbed', 'elbow', 1, 10],
  ['tubing-coupling', 'Tubing coupling, barbed', 'coupling', 0.5, 10],
  ['tubing-splice', 'Tubing coupling at a splice, barbed', 'splice', 0.5, 10],
  ['tubing-end-cap', 'Tubing end cap', 'end-cap', 0, 10],
  ['stub-up-tee', 'Stub-up tee, thread to two barbs', 'stub-up-tee', 1.5, 1],
  ['flush-valve', 'Manual flush valve', 'flush-valve', 2, 1],
  ['flush-box', 'Round box for the flush valve, 6 in', 'flush-box', 0, 1],
  ['air-relief', 'Air and vacuum relief', 'air-relief', 0, 1],
  ['air-relief-box', 'Round box for the air relief, 6 in', 'air-relief-box', 0, 1],
  ['check-valve', 'Check valve, in line', 'check-valve', 2, 1],
  ['staple', 'Tubing staple, 6 in', 'staple', 0, 100],
  ['pvc-tee', 'PVC tee, solvent weld', 'pvc-tee', 1.2, 1],
  ['pvc-elbow', 'PVC elbow, 90 degrees', 'pvc-elbow', 0.9, 1],
  ['pvc-elbow-45', 'PVC elbow, 45 degrees', 'pvc-elbow-45', 0.4, 1],
  ['pvc-coupling', 'PVC coupling', 'pvc-coupling', 0.1, 1],
  ['pvc-reducer', 'PVC reducing bushing', 'pvc-reducer', 0.3, 1],
  ['stub-up-riser', 'Stub-up riser, PVC with threaded adapter', 'stub-up-riser', 0.9, 1],
  ['box-12in', 'Valve box, 12 in', 'box', 0, 1],
  ['box-14x19in', 'Valve box, 14 x 19 in', 'box', 0, 1],
  ['wire', 'Control wire, direct burial', 'wire', 0, 1],
  ['wire-connector', 'Waterproof wire connector', 'wire-connector', 0, 2],
  ['glue', 'PVC cement', 'glue', 0, 1],
  ['primer', 'PVC primer', 'primer', 0, 1],
  ['thread-tape', 'Thread seal tape', 'thread-tape', 0, 1],
  ['controller', 'Irrigation controller', 'controller', 0, 1],
  ['weather-sensor', 'Rain or weather sensor', 'weather-sensor', 0, 1],
  ['master-valve', 'Master valve', 'master-valve', 3, 1],
  ['master-regulator', 'Master pressure regulator', 'master-regulator', 0, 1],
  ['flow-sensor', 'Flow sensor', 'flow-sensor', 0.5, 1],
  ['shut-off', 'Ball valve, full port', 'shut-off', 0.2, 1],
  ['drain-point', 'Drain or blow-out connection', 'drain-point', 0, 1],
  ['drain-box', 'Round box for the drain point, 6 in', 'drain-box', 0, 1],
  ['meter-box', 'Box for shut-off and connection', 'connection-box', 0, 1],
  ['gauge-point', 'Pressure gauge connection', 'gauge-point', 0, 1],
  ['warning-tape', 'Marking tape for recycled water', 'recycled-marking', 0, 1],
  ['recycled-tag', 'Recycled water tag', 'recycled-tag', 0, 1],
  ['mulch', 'Mulch', 'mulch', 0, 1],
];

/** Everything that is counted and has no room of its own, by `use`. */
export const TYPICAL_FITTINGS: readonly Fitting[] = ROWS.map(([id, name, use, lossK, packOf]) => ({
  kind: 'fitting',
  id,
  name,
  source: TYPICAL,
  use,
  lossK,
  packOf,
}));
