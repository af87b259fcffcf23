import type { Page } from 'playwright';
import { cornerOnScreen, type Row, type Table, withTenBeds } from './deskPage';

interface Options {
  readonly root: string;
  readonly full: boolean;
}

/** How often memory is read in a run. */
const READINGS = 20;

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

/** Draws, drags and takes back again and again; what is held at the start and after each twentieth of it, once the desk has come to rest. */
async function drawAgain(page: Page, rounds: number): Promise<readonly Heap[]> {
  await page.keyboard.press('Home');
  const readHeap = await heapReader(page);
  const held = [await readHeap()];
  for (let reading = 0; reading < READINGS; reading++) {
    for (let one = 0; one < rounds / READINGS; one++) await drawDragUndo(page);
    await page.waitForFunction(() => document.body.dataset.design === 'finished', undefined, {
      timeout: 300_000,
    });
    held.push(await readHeap());
  }
  return held;
}

/** Growth a thousand rounds, MB, by the straight line through evenly spaced readings. */
function growthMb(heldMb: readonly number[], roundsBetween: number): number {
  const meanAt = (heldMb.length - 1) / 2;
  const meanMb = heldMb.reduce((sum, mb) => sum + mb, 0) / heldMb.length;
  const along = heldMb.reduce((sum, mb, at) => sum + (at - meanAt) * (mb - meanMb), 0);
  const across = heldMb.reduce((sum, _mb, at) => sum + (at - meanAt) ** 2, 0);
  return (1000 * along) / across / roundsBetween;
}

/** What one part of the program held: warming, which ends, is told apart from growth, which goes on through the latter half. */
function rowOf(part: string, heldMb: readonly number[], rounds: number): Row {
  const half = heldMb.length >> 1;
  return {
    part,
    rounds,
    ...Object.fromEntries(
      [0, 0.25, 0.5, 0.75, 1].map((share) => [
        `MB at ${share}`,
        (heldMb[Math.round(share * READINGS)] ?? 0).toFixed(2),
      ]),
    ),
    'first half, MB a 1,000 rounds': growthMb(heldMb.slice(0, half + 1), rounds / READINGS),
    'latter half': growthMb(heldMb.slice(half), rounds / READINGS),
  };
}

/** What drawing leaves in memory: a bed drawn, its corner dragged, and both taken back, again and again. */
export async function benchMemory({ root, full }: Options): Promise<Table> {
  const rounds = full ? 1000 : 60;
  return withTenBeds(root, async (page) => {
    const held = await drawAgain(page, rounds);
    return {
      title: `Memory of the desk after collection: ten beds; a bed drawn, dragged and taken back ${rounds} times (aim: flat once warm)`,
      rows: [
        rowOf(
          'window',
          held.map((one) => one.windowMb),
          rounds,
        ),
        rowOf(
          'design worker',
          held.map((one) => one.designerMb),
          rounds,
        ),
      ],
    };
  });
}
