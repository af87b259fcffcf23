import type { Page } from 'playwright';
import { cornerOnScreen, type Row, type Table, withTenBeds } from './deskPage';

interface Options {
  readonly root: string;
  readonly full: boolean;
}

/** One frame of a 60 Hz screen, ms. */
const FRAME_MS = 16;

const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))] ?? 0;

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

/** When the window asked its design worker and when it was answered, by kind and number, milliseconds. */
interface Talk {
  readonly asked: readonly (readonly [request: number, atMs: number])[];
  readonly answered: readonly (readonly [kind: string, request: number, atMs: number])[];
}

/** Notes every message between the window and its workers, from before the page starts them. */
async function noteTalk(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const talk = { asked: [] as [number, number][], answered: [] as [string, number, number][] };
    (window as unknown as { talk: typeof talk }).talk = talk;
    window.Worker = class extends Worker {
      constructor(address: string | URL, options?: WorkerOptions) {
        super(address, options);
        this.addEventListener('message', ({ data }) =>
          talk.answered.push([data.kind, data.request, performance.now()]),
        );
        const post = this.postMessage.bind(this) as (message: { request: number }) => void;
        this.postMessage = (message: { request: number }) => {
          talk.asked.push([message.request, performance.now()]);
          post(message);
        };
      }
    };
  });
}

/** Drags the corner on without waiting for anything, a move each frame; how old each answer is when it comes, by its kind. */
async function dragOn(
  page: Page,
  moves: number,
): Promise<{ readonly tubing: readonly number[]; readonly figures: readonly number[] }> {
  const corner = await cornerOnScreen(page, 7, 0);
  await page.mouse.move(corner.x, corner.y);
  await page.mouse.down();
  await page.evaluate(() => {
    const { talk } = window as unknown as { talk: { asked: unknown[]; answered: unknown[] } };
    talk.asked.length = 0;
    talk.answered.length = 0;
  });
  for (let move = 1; move <= moves; move++) {
    await page.mouse.move(corner.x + 8 * Math.sin(move / 3), corner.y + 10 + (move % 7));
    await page.waitForTimeout(FRAME_MS);
  }
  const talk = await page.evaluate(() => (window as unknown as { talk: Talk }).talk);
  await page.mouse.up();
  const askedAt = new Map(talk.asked);
  const ages = (kind: string): number[] =>
    talk.answered.flatMap(([one, request, atMs]) => {
      const since = askedAt.get(request);
      return one === kind && since !== undefined ? [atMs - since] : [];
    });
  return { tubing: ages('routed'), figures: ages('designed') };
}

const shares = (name: string, valuesMs: readonly number[]): Row =>
  Object.fromEntries(
    [0.5, 0.95].map((share) => [`${name} p${share * 100} ms`, Math.round(quantile(valuesMs, share))]),
  );

const times = (part: keyof Span, spans: readonly Span[]): Row =>
  shares(
    part,
    spans.map((span) => span[part]),
  );

/** Takes back what was dragged and lets the desk come to rest. */
async function takeBack(page: Page): Promise<void> {
  await page.keyboard.press('Control+z');
  await page.locator('body[data-design="finished"]').waitFor({ timeout: 300_000 });
}

/** The desk under a hand: how soon the route follows a dragged corner of a plan of ten beds. */
export async function benchDesk({ root, full }: Options): Promise<readonly Table[]> {
  const [moves, movesOn] = full ? [200, 300] : [40, 60];
  return withTenBeds(
    root,
    async (page) => {
      const spans = await dragCorner(page, moves);
      await takeBack(page);
      const { tubing, figures } = await dragOn(page, movesOn);
      return [
        {
          title:
            'The desk: ten beds, a corner dragged, each move once the last was answered (aim for the tubing: 50 ms at p95)',
          rows: [
            {
              moves: spans.length,
              ...times('tubing', spans),
              ...times('painted', spans),
              ...times('design', spans),
            },
          ],
        },
        {
          title:
            'The same corner dragged on without waiting, a move a frame: how old an answer is when it comes',
          rows: [
            {
              moves: movesOn,
              'tubing shown': tubing.length,
              ...shares('tubing', tubing),
              'figures shown': figures.length,
              ...shares('figures', figures),
            },
          ],
        },
      ];
    },
    noteTalk,
  );
}
