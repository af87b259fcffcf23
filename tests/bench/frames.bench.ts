import type { Page } from 'playwright';
import { emptyPlan, type Plan, writePlan } from '../../src/core/plan';
import { type DesignParcel, NOTHING_SENT, packDesign } from '../../src/worker';
import { type Bench, setUpBench } from '../app/bench';
import { manyEmitters } from './manyEmitters';

const EMITTERS = 100_000;
/** One frame of a 60 Hz screen, and what counts as at least one more missed. */
const FRAME_MS = 1000 / 60;
const DROPPED_MS = 1.5 * FRAME_MS;
const PANS = 120;
const ZOOMS = 60;
/** Notches from the whole site to a few beds. */
const NEARER = 15;

/** Data as text, arrays of numbers of any kind as plain ones. */
const plainText = (value: unknown): string =>
  JSON.stringify(value, (_key, item) =>
    ArrayBuffer.isView(item) ? Array.from(item as unknown as ArrayLike<number>) : item,
  );

/** The page with a worker that answers every plan with the prepared design: drawing is measured, not routing. */
async function openPrepared(bench: Bench, plan: Plan, parcel: DesignParcel | null): Promise<Page> {
  const context = await bench.browser.newContext({ viewport: { width: 1440, height: 900 } });
  await context.route('**/prepared.json', (route) =>
    route.fulfill({ contentType: 'application/json', body: plainText(parcel) }),
  );
  await context.addInitScript(() => {
    localStorage.setItem('rillsheet.visited', 'yes');
    class PreparedWorker extends EventTarget {
      onmessage: ((event: { data: unknown }) => void) | null = null;
      terminate(): void {}
      async postMessage(order: { readonly request: number; readonly plan?: { readonly id: string } }) {
        if (order.plan?.id !== 'many') return;
        const prepared = await (await fetch('/prepared.json')).json();
        this.onmessage?.({
          data: { kind: 'designed', request: order.request, parcel: prepared, tookMs: 0 },
        });
      }
    }
    Object.assign(globalThis, { Worker: PreparedWorker });
  });
  const page = await context.newPage();
  page.on('filechooser', () => undefined);
  await page.goto(bench.address);
  await page.locator('#sketch').waitFor();
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('dialog').getByRole('button', { name: /^Open/ }).click();
  await (await chooser).setFiles({
    name: 'many.rillsheet.json',
    mimeType: 'application/json',
    buffer: Buffer.from(writePlan(plan)),
  });
  if (parcel !== null) await page.locator('body[data-design="finished"]').waitFor({ timeout: 120_000 });
  return page;
}

interface Motion {
  readonly p50Ms: number;
  readonly p95Ms: number;
  readonly worstMs: number;
  readonly frames: number;
  readonly dropped: number;
}

/** Frame times while something is done, from the page's own frame clock. */
async function framesDuring(page: Page, act: () => Promise<void>): Promise<Motion> {
  await page.evaluate(() => {
    const times: number[] = [];
    let isRunning = true;
    const tick = (now: number): void => {
      times.push(now);
      if (isRunning) requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
    Object.assign(globalThis, {
      endFrames: () => {
        isRunning = false;
        return times;
      },
    });
  });
  await act();
  const times = await page.evaluate(() =>
    (globalThis as unknown as { endFrames: () => number[] }).endFrames(),
  );
  const steps = times.slice(1).map((time, index) => time - (times[index] ?? 0));
  const sorted = [...steps].sort((a, b) => a - b);
  const at = (ratio: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * ratio))] ?? 0;
  return {
    p50Ms: at(0.5),
    p95Ms: at(0.95),
    worstMs: sorted.at(-1) ?? 0,
    frames: steps.length,
    dropped: steps.reduce((sum, step) => sum + (step > DROPPED_MS ? Math.round(step / FRAME_MS) - 1 : 0), 0),
  };
}

/** A hand that drags the sketch in circles, with the pointer's own events. */
async function pan(page: Page): Promise<void> {
  const frame = await page.locator('#sketch').boundingBox();
  if (!frame) throw new Error('the sketch is not on the page');
  const middle = { x: frame.x + frame.width / 2, y: frame.y + frame.height / 2 };
  await page.mouse.move(middle.x, middle.y);
  await page.mouse.down({ button: 'middle' });
  for (let step = 0; step < PANS; step++) {
    const turn = (step / 60) * 2 * Math.PI;
    await page.mouse.move(middle.x + 150 * Math.sin(turn), middle.y + 100 * (1 - Math.cos(turn)));
  }
  await page.mouse.up({ button: 'middle' });
}

/** A wheel turned in and out about one place. */
async function zoom(page: Page, inward: number): Promise<void> {
  await page.keyboard.down('Control');
  for (let step = 0; step < ZOOMS; step++) await page.mouse.wheel(0, step % 60 < 30 ? -inward : inward);
  await page.keyboard.up('Control');
}

async function measure(page: Page, name: string): Promise<Record<string, string | number>[]> {
  const rows: Record<string, string | number>[] = [];
  const put = async (motion: string, act: () => Promise<void>): Promise<void> => {
    rows.push({ drawn: name, motion, ...(await framesDuring(page, act)) });
    await page.waitForTimeout(400);
  };
  await page.keyboard.press('F3');
  await page.keyboard.type('A dot for every emitter');
  await page.keyboard.press('Enter');
  await page.locator('#sketch').focus();
  await put('still', () => page.waitForTimeout(2000));
  await put('pan, whole site', () => pan(page));
  await put('zoom, site to bed', () => zoom(page, 60));
  await page.keyboard.down('Control');
  for (let step = 0; step < NEARER; step++) await page.mouse.wheel(0, -60);
  await page.keyboard.up('Control');
  await page.waitForTimeout(400);
  await put('pan, among emitters', () => pan(page));
  return rows;
}

/**
 * Frame times with real pointer and wheel input in software rendering: a plan of 100,000 emitters beside an empty one in the same
 * run, because a busy machine slows both. The promise is 17 ms at the 95th percentile on a machine at rest.
 */
export async function benchFrames(): Promise<{ title: string; rows: Record<string, string | number>[] }> {
  const { plan, design } = manyEmitters(EMITTERS);
  const bench = await setUpBench();
  try {
    const empty = await openPrepared(bench, { ...emptyPlan('none') }, null);
    const emptyRows = await measure(empty, 'nothing');
    await empty.context().close();
    const full = await openPrepared(bench, plan, packDesign(design, NOTHING_SENT));
    const count = design.supply.zones.reduce((sum, zone) => sum + zone.emitters.headM.length, 0);
    const fullRows = await measure(full, `${count} emitters`);
    return { title: 'frame times, ms (60 Hz: 16.7)', rows: [...emptyRows, ...fullRows] };
  } finally {
    await bench.close();
  }
}
