import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright';
import { build, preview } from 'vite';
import { writePlan } from '../../src/core/plan';
import { tenBeds } from './tenBeds';

type Row = Readonly<Record<string, string | number>>;

interface Options {
  readonly root: string;
  readonly full: boolean;
}

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))] ?? 0;

async function openPlan(page: Page, address: string): Promise<void> {
  await page.addInitScript(() => localStorage.setItem('rillsheet.visited', 'yes'));
  await page.goto(address);
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('dialog').getByRole('button', { name: /^Open/ }).click();
  const buffer = Buffer.from(writePlan(tenBeds()));
  await (await chooser).setFiles({ name: 'ten.rillsheet.json', mimeType: 'application/json', buffer });
  await page.locator('body[data-design="finished"]').waitFor({ timeout: 300_000 });
}

async function cornerOnScreen(page: Page, x: number, y: number): Promise<{ x: number; y: number }> {
  const sketch = page.locator('#sketch');
  const frame = await sketch.boundingBox();
  const [left = 0, top = 0, scale = 1] = ((await sketch.getAttribute('data-view')) ?? '')
    .split(' ')
    .map(Number);
  if (!frame) throw new Error('the sketch is not on the page');
  return { x: frame.x + left + x * scale, y: frame.y + top - y * scale };
}

/** Milliseconds from one move of the hand: to the new tubing on the page, to its picture, to the design that answers it. */
interface Span {
  readonly tubing: number;
  readonly painted: number;
  readonly design: number;
}

/** Drags a corner, each move once the last was answered in full, and notes when each answer came. */
async function dragCorner(page: Page, moves: number): Promise<readonly Span[]> {
  const inside = await cornerOnScreen(page, 2, 2);
  await page.mouse.click(inside.x, inside.y);
  const corner = await cornerOnScreen(page, 7, 0);
  await page.evaluate(() => {
    const spans: { tubing: number; painted: number; design: number }[] = [];
    let began = 0;
    let now = { tubing: 0, painted: 0, design: 0 };
    document.querySelector('#sketch')?.addEventListener('pointermove', () => (began = performance.now()), {
      capture: true,
    });
    new MutationObserver(() => {
      const { design, tubing } = document.body.dataset;
      if (design === 'stale' && tubing === 'stale') now = { tubing: 0, painted: 0, design: 0 };
      if (tubing === 'current' && now.tubing === 0) {
        const mine = now;
        const since = began;
        mine.tubing = performance.now() - since;
        requestAnimationFrame(() => setTimeout(() => (mine.painted = performance.now() - since), 0));
      }
      if (design === 'stale' || now.design !== 0) return;
      now.design = performance.now() - began;
      spans.push(now);
    }).observe(document.body, { attributeFilter: ['data-design', 'data-tubing'] });
    (window as unknown as { spans: typeof spans }).spans = spans;
  });
  await page.mouse.move(corner.x, corner.y);
  await page.mouse.down();
  for (let move = 1; move <= moves; move++) {
    await page.mouse.move(corner.x + 8 * Math.sin(move / 3), corner.y + 10 + (move % 7));
    await page.waitForFunction(() => document.body.dataset.design !== 'stale', undefined, { polling: 10 });
  }
  await page.mouse.up();
  const spans = await page.evaluate(() => (window as unknown as { spans: Span[] }).spans);
  return spans.filter((span) => span.painted > 0);
}

/** What one part of the program holds after its garbage was collected. */
interface Heap {
  readonly windowMb: number;
  readonly designerMb: number;
}

/** Asks the window's and the design worker's heap through the browser's own inspector. */
async function heapReader(page: Page): Promise<() => Promise<Heap>> {
  const session = await page.context().newCDPSession(page);
  const answers = new Map<number, (result: { usedSize?: number }) => void>();
  let designer = '';
  let asked = 0;
  session.on('Target.attachedToTarget', ({ sessionId, targetInfo }) => {
    if (targetInfo.type === 'worker' && designer === '') designer = sessionId;
  });
  session.on('Target.receivedMessageFromTarget', ({ message }) => {
    const { id, result } = JSON.parse(message) as { id?: number; result?: { usedSize?: number } };
    if (id !== undefined) answers.get(id)?.(result ?? {});
  });
  await session.send('Target.setAutoAttach', {
    autoAttach: true,
    waitForDebuggerOnStart: false,
    flatten: false,
  });
  const askDesigner = (method: string): Promise<{ usedSize?: number }> =>
    new Promise((resolve, reject) => {
      asked += 1;
      answers.set(asked, resolve);
      const message = JSON.stringify({ id: asked, method });
      session.send('Target.sendMessageToTarget', { sessionId: designer, message }).catch(reject);
    });
  return async () => {
    await session.send('HeapProfiler.collectGarbage');
    const { usedSize } = await session.send('Runtime.getHeapUsage');
    await askDesigner('HeapProfiler.collectGarbage');
    const worker = await askDesigner('Runtime.getHeapUsage');
    return { windowMb: usedSize / 1e6, designerMb: (worker.usedSize ?? 0) / 1e6 };
  };
}

/** Draws a bed by its size, drags its corner, and takes both back. */
async function drawDragUndo(page: Page): Promise<void> {
  await page.keyboard.press('Alt+3');
  await page.keyboard.press('1');
  for (const entry of ['E 70 N 0', '4 x 3']) {
    await page.keyboard.type(entry);
    await page.keyboard.press('Enter');
  }
  await page.keyboard.press('Escape');
  const corner = await cornerOnScreen(page, 74, 3);
  await page.mouse.move(corner.x, corner.y);
  await page.mouse.down();
  await page.mouse.move(corner.x + 6, corner.y - 9, { steps: 3 });
  await page.mouse.up();
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
}

/** Draws, drags and takes back again and again; what is held after each tenth of it, once the desk has come to rest. */
async function drawAgain(page: Page, times: number): Promise<readonly Heap[]> {
  await page.keyboard.press('Home');
  const readHeap = await heapReader(page);
  const left: Heap[] = [];
  for (let tenth = 0; tenth < 10; tenth++) {
    for (let one = 0; one < times / 10; one++) await drawDragUndo(page);
    await page.waitForFunction(() => document.body.dataset.design === 'finished', undefined, {
      timeout: 300_000,
    });
    left.push(await readHeap());
  }
  return left;
}

/** Growth of a heap a thousand rounds, MB, by the straight line through what was held after each tenth but the first. */
function growthMb(held: readonly number[], rounds: number): number {
  const points = held.slice(1).map((mb, index) => [index, mb] as const);
  const mean = (of: (point: readonly [number, number]) => number): number =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [at, mb] = [mean(([x]) => x), mean(([, y]) => y)];
  const slope = mean(([x, y]) => (x - at) * (y - mb)) / mean(([x]) => (x - at) ** 2);
  return (slope / (rounds / 10)) * 1000;
}

const ends = (held: readonly number[]): string =>
  [held[0], held.at(-1)].map((mb) => (mb ?? 0).toFixed(1)).join(' - ');

const times = (part: keyof Span, spans: readonly Span[]): Row =>
  Object.fromEntries(
    [0.5, 0.95].map((share) => [
      `${part} p${share * 100} ms`,
      Math.round(
        quantile(
          spans.map((span) => span[part]),
          share,
        ),
      ),
    ]),
  );

/** The desk under a hand: how soon the route follows a dragged corner of a plan of ten beds, and what drawing leaves in memory. */
export async function benchDesk({ root, full }: Options): Promise<{ title: string; rows: readonly Row[] }> {
  const configFile = join(root, 'build/vite.config.ts');
  await build({ configFile, logLevel: 'error' });
  const server = await preview({ configFile, logLevel: 'error', preview: { port: 0, host: 'localhost' } });
  const executablePath = process.env.CHROMIUM_PATH ?? PLACES.find(existsSync);
  const browser = await chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: ['--no-sandbox'],
  });
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await openPlan(page, server.resolvedUrls?.local[0] ?? '');
    const spans = await dragCorner(page, full ? 200 : 40);
    const rounds = full ? 1000 : 50;
    const heap = await drawAgain(page, rounds);
    return {
      title: `The desk: ten beds, a corner dragged (aim: 50 ms at p95); a bed drawn, dragged and taken back ${rounds} times (aim: flat)`,
      rows: [
        {
          moves: spans.length,
          ...times('tubing', spans),
          ...times('painted', spans),
          ...times('design', spans),
          'window MB, first and last tenth': ends(heap.map((one) => one.windowMb)),
          'growth MB a 1,000 rounds': growthMb(
            heap.map((one) => one.windowMb),
            rounds,
          ),
          'designer MB, first and last tenth': ends(heap.map((one) => one.designerMb)),
          'its growth MB': growthMb(
            heap.map((one) => one.designerMb),
            rounds,
          ),
        },
      ],
    };
  } finally {
    await browser.close();
    await server.close();
  }
}
