import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt } from '../../build/build.mjs';
import { emptyPlan, writePlan } from '../../src/core/plan';
import type { Answer, Host } from '../../src/host/contract';
import { launchReal, launchStandIn, runtimeBinary, type Shell } from './driver';

type PageWithHost = Window & { readonly rillsheetHost: Host };
const titled = (title: string): string => {
  const plan = emptyPlan('plan-of-the-shell', 'us');
  return writePlan({ ...plan, project: { ...plan.project, title } });
};

beforeAll(ensureBuilt);

/** What holds of the shell whichever runtime carries it. */
function shellBodies(launch: () => Promise<Shell>): void {
  let shell: Shell;
  const folder = mkdtempSync(join(tmpdir(), 'rillsheet-plans-'));
  const file = join(folder, 'garden.rillsheet.json');
  beforeAll(async () => {
    writeFileSync(file, titled('Front garden'));
    shell = await launch();
    await shell.page.locator('#sketch').waitFor();
  });
  afterAll(() => shell?.end());
  const savedTitle = (): string => JSON.parse(readFileSync(file, 'utf8')).project.title;
  const call = <T>(act: (host: Host) => Promise<T>): Promise<T> =>
    shell.page.evaluate(
      `(${act})(window.rillsheetHost).catch((error) => ({ kind: 'threw', detail: String(error) }))`,
    ) as Promise<T>;

  it('the app stands on its own protocol with the bridge and no module loader', async () => {
    expect(await shell.page.evaluate(() => (window as unknown as PageWithHost).rillsheetHost.kind)).toBe(
      'window',
    );
    const reach = await shell.page.evaluate(() => ({
      require: typeof (globalThis as Record<string, unknown>).require,
      process: typeof (globalThis as Record<string, unknown>).process,
      module: typeof (globalThis as Record<string, unknown>).module,
    }));
    expect(reach).toEqual({ require: 'undefined', process: 'undefined', module: 'undefined' });
  });

  it('a plan handed over by the system lies on the desk', async () => {
    await shell.openFromSystem(file);
    await expect.poll(() => shell.page.locator('header.head').textContent()).toContain('garden');
  });

  it('a plan named at a second start, from another folder, takes its place', async () => {
    const other = join(folder, 'yard.rillsheet.json');
    writeFileSync(other, titled('Back yard'));
    await shell.startAgain(['yard.rillsheet.json'], folder);
    await expect.poll(() => shell.page.locator('header.head').textContent()).toContain('yard');
    await shell.openFromSystem(file);
    await expect.poll(() => shell.page.locator('header.head').textContent()).toContain('garden');
  });

  it('the menu works the page: units are switched, saved back to the file, and nothing else is left there', async () => {
    await shell.chooseMenu('view.units');
    await shell.chooseMenu('plan.save');
    await expect.poll(() => JSON.parse(readFileSync(file, 'utf8')).display.units).toBe('metric');
    expect(savedTitle()).toBe('Front garden');
    expect(readdirSync(folder).filter((name) => name.includes('tmp'))).toEqual([]);
  });

  it('closing with unsaved work asks, and staying keeps window and work', async () => {
    await shell.chooseMenu('view.units');
    await expect.poll(() => shell.page.locator('.kept').textContent()).toBe('not saved');
    const asked = await shell.messagesShown();
    await shell.answerMessage(1);
    await shell.closeWindow();
    await expect.poll(() => shell.messagesShown()).toBe(asked + 1);
    expect(await shell.windowCount()).toBe(1);
    await shell.chooseMenu('edit.undo');
  });

  it('a place the person never chose is refused, however it is named', async () => {
    const answer = (await call((host) =>
      host.save({ token: '/etc/passwd', name: 'passwd' }, 'x.json', new Uint8Array([1])),
    )) as Answer<unknown>;
    expect(answer).toMatchObject({ kind: 'refused', code: 'host.unknown-file' });
  });

  it('an output arrives on disk byte for byte', async () => {
    const target = join(folder, 'sheet.pdf');
    await shell.answerSave(target);
    await call((host) => host.exportBytes('sheet.pdf', 'application/pdf', new Uint8Array([0, 1, 128, 255])));
    expect([...readFileSync(target)]).toEqual([0, 1, 128, 255]);
  });

  it('a chooser put away changes nothing', async () => {
    await shell.answerOpen(null);
    expect(await call((host) => host.open([{ label: 'Plan', extensions: ['json'] }]))).toEqual({
      kind: 'cancelled',
    });
  });

  it('no permission is given: no place, no camera, no notice', async () => {
    const states = await shell.page.evaluate(() =>
      Promise.all(
        ['geolocation', 'notifications', 'camera'].map(
          async (name) => (await navigator.permissions.query({ name: name as PermissionName })).state,
        ),
      ),
    );
    expect(states).not.toContain('granted');
  });

  it('a new window does not open and another address is not gone to', async () => {
    const windows = await shell.windowCount();
    await shell.page.evaluate(() => {
      window.open('https://example.test/');
      location.href = 'https://example.test/';
    });
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(await shell.windowCount()).toBe(windows);
    expect(await shell.page.evaluate(() => document.getElementById('sketch') !== null)).toBe(true);
  });

  it('closing without saving closes the window', async () => {
    await shell.chooseMenu('view.units');
    await expect.poll(() => shell.page.locator('.kept').textContent()).toBe('not saved');
    await shell.answerMessage(2);
    await shell.closeWindow();
    await expect.poll(() => shell.windowCount().catch(() => 0)).toBe(0);
  });
}

describe('the shell on a stand-in of the desktop runtime', () => shellBodies(() => launchStandIn()));

const binary = runtimeBinary();
describe.skipIf(binary === null)(
  'the shell in the desktop runtime itself (skipped where the desktop runtime binary is absent)',
  () => shellBodies(launchReal),
);
