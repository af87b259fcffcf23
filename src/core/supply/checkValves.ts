import { setting } from '../catalog';
import { headingRad, type PlanPoint } from '../geometry';
import type { Plan } from '../plan';
import type { HeightAt } from './elevation';
import type { SizedBranch } from './network';
import type { ServedBed } from './types';

/** A check valve on a header: on which branch, where, and which way it lets water pass. */
export interface CheckPlace {
  readonly branchId: string;
  readonly at: PlanPoint;
  readonly angleRad: number;
}

/**
 * Check valves along headers that fall: one at each so many metres of fall below the assembly, so that what stands above
 * does not run out of the lowest emitters after every run; none where every emitter holds its own.
 * Common practice, no source.
 */
export function checkPlaces(
  plan: Plan,
  headers: readonly SizedBranch[],
  beds: readonly ServedBed[],
  assemblyHeightM: number,
  heightAt: HeightAt,
): CheckPlace[] {
  const everyM = setting(plan.settings, 'elevationPerCheckValveM');
  if (everyM <= 0 || beds.every(({ dripline }) => dripline.checkValve)) return [];
  return headers.flatMap(({ id, branch }) =>
    branch.path.slice(1).flatMap((b, index) => {
      const a = branch.path[index]!;
      const fallA = assemblyHeightM - heightAt(a);
      const fallB = assemblyHeightM - heightAt(b);
      const found: CheckPlace[] = [];
      for (let step = Math.max(1, Math.floor(fallA / everyM) + 1); step * everyM <= fallB; step++) {
        const ratio = (step * everyM - fallA) / (fallB - fallA);
        const at = { x: a.x + (b.x - a.x) * ratio, y: a.y + (b.y - a.y) * ratio };
        found.push({ branchId: id, at, angleRad: headingRad(a, b) });
      }
      return found;
    }),
  );
}
