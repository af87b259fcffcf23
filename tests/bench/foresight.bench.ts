import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { typicalCatalog } from '../../src/core/catalog';
import { createDesignCache, type Design, designPlan } from '../../src/core/design';
import { type Plan, readPlan } from '../../src/core/plan';
import { buildToleranceSteps, faultFingerprintSteps, foundPressureSteps } from '../../src/core/supply';
import type { Steps } from '../../src/core/units';
import { tenBeds } from './tenBeds';

type Row = Readonly<Record<string, string | number>>;

interface Options {
  readonly root: string;
}

/** Time of the processor by step, ms: waiting for other programs is not counted, collecting garbage beside is. */
function stepsOf(steps: Steps<unknown>): readonly number[] {
  const stepsMs: number[] = [];
  for (;;) {
    const began = process.cpuUsage();
    const { done } = steps.next();
    const { user, system } = process.cpuUsage(began);
    stepsMs.push((user + system) / 1000);
    if (done) return stepsMs;
  }
}

const whole = (ms: number): number => Math.round(ms * 10) / 10;

function rowOf(plan: string, design: Design, designMs: number): Row {
  const layouts = design.beds.map(({ layout }) => layout);
  const parts = {
    found: (zone: (typeof design.supply.zones)[number]) => foundPressureSteps(design.plan, zone),
    tolerance: (zone: (typeof design.supply.zones)[number]) => buildToleranceSteps(design.plan, zone),
    faults: (zone: (typeof design.supply.zones)[number]) =>
      faultFingerprintSteps(zone, design.catalog, layouts),
  };
  const began = performance.now();
  const all = Object.entries(parts).map(([name, part]) => ({
    name,
    stepsMs: design.supply.zones.flatMap((zone) => stepsOf(part(zone))),
  }));
  const wallMs = performance.now() - began;
  const stepsMs = all.flatMap((part) => part.stepsMs).sort((a, b) => a - b);
  const total = (ms: readonly number[]): number => ms.reduce((sum, one) => sum + one, 0);
  return {
    plan,
    zones: design.supply.zones.length,
    places: design.supply.zones.reduce((sum, zone) => sum + zone.network.nodes.length, 0),
    'design ms': whole(designMs),
    ...Object.fromEntries(all.map((part) => [`${part.name} ms`, whole(total(part.stepsMs))])),
    'all ms': whole(total(stepsMs)),
    'by the wall ms': whole(wallMs),
    steps: stepsMs.length,
    'step p95 ms': whole(stepsMs[Math.floor(0.95 * stepsMs.length)] ?? 0),
    'longest step ms': whole(stepsMs.at(-1) ?? 0),
  };
}

/** What is foreseen of a plan after its route stands: time of each part, and of the single steps that a drag may have to wait for. */
export async function benchForesight({ root }: Options): Promise<{ title: string; rows: readonly Row[] }> {
  const file = 'demonstration.rillsheet.json';
  const read = readPlan(readFileSync(join(root, 'assets', file), 'utf8'), file);
  if (!read.ok) throw new Error('the demonstration plan does not read');
  const plans: readonly (readonly [string, Plan])[] = [
    ['demonstration, first', read.value],
    ['demonstration, again', read.value],
    ['ten beds', tenBeds()],
  ];
  const rows = plans.map(([name, plan]) => {
    const began = performance.now();
    const design = designPlan(plan, typicalCatalog, { quality: 'finished', cache: createDesignCache() });
    return rowOf(name, design, performance.now() - began);
  });
  return {
    title:
      'Foreseen after the route stands, in steps of the processor (aim: a step under 38 ms, so that a drag goes on in 50)',
    rows,
  };
}
