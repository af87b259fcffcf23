import { expect, it } from 'vitest';
import { typicalCatalog } from '../../../../src/core/catalog';
import {
  prepareNetwork,
  solvePrepared,
  solvePreparedSteps,
  withFigures,
} from '../../../../src/core/hydraulics';
import { designSupply, faultsOf } from '../../../../src/core/supply';
import { planWithSource, servedBed, smallBed, withBed } from '../made';

const plan = withBed(planWithSource({ x: -3, y: -2 }), smallBed);
const bed = servedBed(plan, smallBed);
const [zone] = designSupply({ plan, catalog: typicalCatalog, beds: [bed], quality: 'finished' }).zones;
const prepared = prepareNetwork(zone!.network);
const faults = faultsOf(zone!, typicalCatalog, [bed.layout]);
const faulty = (code: string) => {
  const { network, outlets } = faults.find((fault) => fault.code === code)!;
  return withFigures(prepared, network, outlets);
};

it('two starved zones solved by turns, with a third solve between, come out as each alone', () => {
  const cases = [faulty('supply.fault-cut-run'), faulty('supply.fault-valve-closed')];
  const alone = cases.map((one) => solvePrepared(one));
  const steps = cases.map((one) => solvePreparedSteps(one));
  const found = steps.map(() => null as ReturnType<typeof solvePrepared> | null);
  let turns = 0;
  while (found.includes(null)) {
    turns += 1;
    steps.forEach((step, i) => {
      if (found[i] !== null) return;
      const next = step.next();
      if (next.done) found[i] = next.value;
    });
    solvePrepared(prepared);
  }
  expect(turns).toBeGreaterThan(5);
  found.forEach((solution, i) => {
    expect(solution!.status).toBe('settled');
    expect([...solution!.headM]).toEqual([...alone[i]!.headM]);
    expect([...solution!.flowM3s]).toEqual([...alone[i]!.flowM3s]);
  });
});

it('a solve that settles at once takes one step', () => {
  const step = solvePreparedSteps(prepared, zone!.solution).next();
  expect(step.done).toBe(true);
});
