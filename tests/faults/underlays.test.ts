import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { crc32, deflateSync } from 'node:zlib';
import { type Browser, chromium } from 'playwright';
import { build, type PreviewServer, preview } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { printer } from '../../src/core/units';
import { sayProblem } from '../../src/core/words';
import { amount, isLong, report } from './amounts';
import { mutate, seeded } from './mutate';
import { HOSTILE } from './underlay/hostile';
import type { UnderlayTrial } from './underlay/page';
import { onePage, packed, picture, stream } from './underlay/pdfText';

const SEED = 20_250_117;
const MOST_MB = 512;
const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

let folder: string;
let server: PreviewServer;
let browser: Browser;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-underlays-'));
  const config = {
    configFile: false,
    root: fileURLToPath(new URL('underlay', import.meta.url)),
    logLevel: 'error',
    worker: { format: 'es' },
    build: {
      outDir: folder,
      emptyOutDir: true,
      target: 'es2022',
      assetsInlineLimit: 0,
      // Squeezing the library takes longer than all that the short run tries.
      minify: false,
      reportCompressedSize: false,
    },
    preview: { port: 0, host: 'localhost' },
  } as const;
  await build(config);
  server = await preview(config);
  const executablePath = process.env.CHROMIUM_PATH ?? PLACES.find(existsSync);
  browser = await chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: ['--no-sandbox'],
  });
}, 120_000);
afterAll(async () => {
  await browser.close();
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

/** A page with a line, letters, a form and a picture, packed, so that a fault lands on something that counts. */
const MIXED = {
  resources: '/XObject<</P 5 0 R/F 6 0 R>>/Font<</L<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>',
  content: packed('', '2 w 0 50 m 200 50 l S BT /L 12 Tf 9 9 Td (bed) Tj ET /F Do 40 0 0 40 9 40 cm /P Do'),
  more: [
    picture(4, 4, '', '\x20\x90\xf0\x40'.repeat(4)),
    stream('/Type/XObject/Subtype/Form/BBox[0 0 200 100]/Resources<<>>', '0 0 m 90 90 l S'),
  ],
};
/** A grey picture of eight by eight pixels. */
function soundPng(): string {
  const chunk = (name: string, data: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(name), data]);
    const frame = Buffer.alloc(8);
    frame.writeUInt32BE(data.length, 0);
    frame.writeUInt32BE(crc32(body), 4);
    return Buffer.concat([frame.subarray(0, 4), body, frame.subarray(4)]);
  };
  const parts = [
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', Buffer.from([0, 0, 0, 8, 0, 0, 0, 8, 8, 0, 0, 0, 0])),
    chunk('IDAT', deflateSync(Buffer.alloc(8 * 9))),
    chunk('IEND', Buffer.alloc(0)),
  ];
  return Buffer.concat(parts).toString('latin1');
}

interface Process {
  readonly id: number;
  readonly type: string;
  readonly cpuTime: number;
}

/** Most memory that any page's process ever held, and the processor time of all of them; memory is told by Linux alone. */
async function used(): Promise<{ readonly peakMB: number; readonly seconds: number }> {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = (await session.send('SystemInfo.getProcessInfo')) as { processInfo: Process[] };
  await session.detach();
  const pages = processInfo.filter(({ type }) => type === 'renderer');
  const peaks = pages.map(({ id }) => {
    const status = `/proc/${id}/status`;
    const peak = existsSync(status) ? /VmHWM:\s+(\d+) kB/.exec(readFileSync(status, 'utf8'))?.[1] : '0';
    return Number(peak) / 1024;
  });
  return {
    peakMB: Math.round(Math.max(...peaks)),
    seconds: pages.reduce((sum, { cpuTime }) => sum + cpuTime, 0),
  };
}

interface Tried extends UnderlayTrial {
  readonly asked: readonly string[];
  readonly peakMB: number;
  readonly processorMs: number;
}

/** Has a page of its own read each underlay in turn. */
async function tryAll(
  underlays: readonly { readonly fileName: string; readonly text: string }[],
): Promise<Tried[]> {
  const page = await browser.newPage();
  const address = server.resolvedUrls?.local[0] ?? '';
  const asked: string[] = [];
  let body = Buffer.alloc(0);
  await page.route('**/given', (route) => route.fulfill({ body }));
  page.on('request', (request) => asked.push(request.url()));
  page.on('popup', () => asked.push('a window of its own'));
  page.on('dialog', () => asked.push('a dialogue'));
  await page.goto(address);
  const tried: Tried[] = [];
  for (const { fileName, text } of underlays) {
    body = Buffer.from(text, 'latin1');
    const before = await used();
    const trial = await page.evaluate(
      ([from, name]) =>
        (
          window as unknown as { tryUnderlay(from: string, name: string): Promise<UnderlayTrial> }
        ).tryUnderlay(from, name),
      ['given', fileName] as const,
    );
    const after = await used();
    tried.push({
      ...trial,
      asked: asked.filter((url) => !url.startsWith(address)),
      peakMB: after.peakMB,
      processorMs: Math.round((after.seconds - before.seconds) * 1000),
    });
  }
  await page.close();
  return tried;
}

/** What is wrong with how an underlay was answered. Null: nothing. */
function faultOf({ came, problem, asked, peakMB }: Tried): string | null {
  if (asked.length > 0) return `asked for ${asked.join(' and ')}`;
  if (peakMB >= MOST_MB) return `${peakMB} MB`;
  if (came === 'drawn') return null;
  if (problem === null) return came;
  const said = sayProblem(problem, printer('us'));
  const isSaid = [said.what, said.why, said.next, said.where].every((words) => words.length > 4);
  return isSaid && said.what !== problem.code ? null : `${problem.code} is not said`;
}

const inTotal = (tried: readonly Tried[]) => ({
  tried: tried.length,
  drawn: tried.filter(({ came }) => came === 'drawn').length,
  refused: tried.filter(({ problem }) => problem !== null).length,
  'ms until the slowest was answered': Math.max(...tried.map(({ tookMs }) => tookMs)),
  'ms of processor time for the slowest': Math.max(...tried.map(({ processorMs }) => processorMs)),
  'ms of silence of the window at most': Math.max(...tried.map(({ longestSilenceMs }) => longestSilenceMs)),
  'MB at the peak': Math.max(...tried.map(({ peakMB }) => peakMB)),
});

describe('a picture or PDF to lie under the plan', () => {
  it('made to do harm is refused with place, reason and remedy, or drawn before it does any', {
    timeout: 900_000,
  }, async () => {
    const hostile = HOSTILE.filter(({ isShort }) => isLong || isShort === true);
    // A page of its own for each says which of them took the memory; the few of the short run share one, which takes half the time.
    const groups = isLong ? hostile.map((one) => [one]) : [hostile];
    const all: Tried[] = [];
    for (const group of groups)
      all.push(...(await tryAll(group.map(({ make }) => ({ fileName: 'site.pdf', text: make() })))));
    const faults = all.flatMap((tried, n) => {
      const { name, may } = hostile[n]!;
      const fault = faultOf(tried) ?? (may.includes(tried.came) ? null : tried.came);
      return fault === null ? [] : [`${name}: ${fault}`];
    });
    report('underlays made to do harm', inTotal(all));
    expect(faults).toEqual([]);
  });

  it('with faults put in is refused with place, reason and remedy, or drawn', {
    timeout: 7_200_000,
  }, async () => {
    const sound = [
      ['site.pdf', onePage(MIXED)],
      ['site.png', soundPng()],
    ] as const;
    const underlays = Array.from({ length: amount(3, 1000) }, (_, n) => {
      const [fileName, text] = sound[n % sound.length]!;
      return { fileName, text: mutate(text, seeded(SEED + n)) };
    });
    const tried = await tryAll([...sound.map(([fileName, text]) => ({ fileName, text })), ...underlays]);
    report('underlays with faults put in', inTotal(tried));
    // What is sound has to be drawn, else the faults would test nothing.
    expect(tried.slice(0, 2).map(({ came }) => came)).toEqual(['drawn', 'drawn']);
    expect(
      tried.flatMap((one, n) => {
        const fault = faultOf(one);
        return fault === null ? [] : [`number ${n - 2} (seed ${SEED}): ${fault}`];
      }),
    ).toEqual([]);
  });
});
