import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createEngine } from '../../../src/app/state/engine';
import { type Catalog, mergeParts, typicalCatalog } from '../../../src/core/catalog';
import type { Design } from '../../../src/core/design';
import { emptyPlan } from '../../../src/core/plan';
import type { Order } from '../../../src/worker';
import { createReplica } from '../../../src/worker/replica';

/** Workers started, and the orders each was given; a real replica answers them. */
let started: { readonly orders: string[]; isStopped: boolean }[] = [];
class PlayedWorker {
  onmessage: ((event: { readonly data: unknown }) => void) | null = null;
  readonly #seen = { orders: [] as string[], isStopped: false };
  readonly #replica = createReplica(
    (reply) => this.onmessage?.({ data: structuredClone(reply) }),
    () => 0,
    { count: 1, start: () => ({ ask: () => undefined, stop: () => undefined }) },
  );
  constructor() {
    started.push(this.#seen);
  }
  postMessage(order: Order): void {
    this.#seen.orders.push(order.kind);
    this.#replica.receive(structuredClone(order));
    this.#replica.work();
  }
  terminate(): void {
    this.#seen.isStopped = true;
  }
}
beforeEach(() => {
  started = [];
  vi.stubGlobal('Worker', PlayedWorker);
});
afterEach(() => vi.unstubAllGlobals());

function engineWithDesigns() {
  const designs: Design[] = [];
  const faults: string[] = [];
  const engine = createEngine({
    designed: (design) => designs.push(design),
    routed: () => undefined,
    failed: (claim) => faults.push(claim),
    working: () => undefined,
  });
  return { engine, designs, faults };
}
const [shipped] = typicalCatalog.driplines;
const own: Catalog = mergeParts(typicalCatalog, shipped ? [{ ...shipped, id: 'my-own' }] : []);

describe("the window's end of the worker", () => {
  it("designs with the user's own parts from the moment they are brought in", () => {
    const { engine, designs, faults } = engineWithDesigns();
    engine.open(emptyPlan('garden'));
    expect(designs.at(-1)?.catalog).toBe(typicalCatalog);
    engine.useParts(own);
    expect(designs.at(-1)?.catalog.driplines.map((dripline) => dripline.id)).toContain('my-own');
    expect(started[0]?.orders).toEqual(['open', 'parts']);
    expect(faults).toEqual([]);
  });

  it('parts brought in before any plan wait for the first', () => {
    const { engine, designs } = engineWithDesigns();
    engine.useParts(own);
    engine.open(emptyPlan('garden'));
    expect(started[0]?.orders).toContain('parts');
    expect(designs.at(-1)?.catalog).toBe(own);
  });

  it('a worker started afresh after a stop is given the parts again', () => {
    const { engine, designs, faults } = engineWithDesigns();
    engine.open(emptyPlan('garden'));
    engine.useParts(own);
    engine.stop();
    expect(started[0]?.isStopped).toBe(true);
    engine.edit([], emptyPlan('garden'));
    expect(started[1]?.orders).toEqual(['open', 'parts']);
    expect(designs.at(-1)?.quality).toBe('finished');
    expect(faults).toEqual([]);
  });
});
