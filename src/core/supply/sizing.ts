import { type Catalog, type Pipe, setting } from '../catalog';
import type { Plan } from '../plan';

/** Mean velocity in a full round bore, m/s. */
export function boreVelocityMs(flowM3s: number, insideDiameterM: number): number {
  return flowM3s / ((Math.PI / 4) * insideDiameterM ** 2);
}

/** Pipes of one material that headers and mains are chosen from, thinnest first. */
export function pipesOf(catalog: Catalog, material: Pipe['material']): Pipe[] {
  return catalog.pipes
    .filter((pipe) => pipe.material === material)
    .sort((a, b) => a.insideDiameterM - b.insideDiameterM || (a.id < b.id ? -1 : 1));
}

/** Least header and main: 3/4 in (common practice, no source); its bore is 20.9 mm. */
const LEAST_BORE_M = 0.0205;

/** The thinnest pipe that carries the flow within the velocity limit; the thickest there is where none does. */
export function sizeByVelocity(plan: Plan, pipes: readonly Pipe[], flowM3s: number): Pipe {
  const limitMs = setting(plan.settings, 'velocityLimitMs');
  const offered = pipes.filter(({ insideDiameterM }) => insideDiameterM >= LEAST_BORE_M);
  const fit = offered.find(({ insideDiameterM }) => boreVelocityMs(flowM3s, insideDiameterM) <= limitMs);
  const pipe = fit ?? offered.at(-1) ?? pipes.at(-1);
  if (!pipe) throw new Error('the catalogue holds no pipe to size a header from');
  return pipe;
}

/** The next size up; null at the thickest. */
export function nextSize(pipes: readonly Pipe[], pipe: Pipe): Pipe | null {
  return pipes.find(({ insideDiameterM }) => insideDiameterM > pipe.insideDiameterM + 1e-6) ?? null;
}

/** A sleeve wide enough for a pipe: twice its outside diameter (common practice, no source). */
export function sleeveFor(catalog: Catalog, pipe: Pipe): Pipe {
  const sleeves = pipesOf(catalog, 'sleeve');
  const sleeve =
    sleeves.find(({ insideDiameterM }) => insideDiameterM >= 2 * pipe.outsideDiameterM) ?? sleeves.at(-1);
  if (!sleeve) throw new Error('the catalogue holds no sleeve');
  return sleeve;
}
