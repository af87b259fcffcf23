import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt } from '../../build/build.mjs';
import { planPathIn } from '../../electron/planPath';
import { launchStandIn } from './driver';

const SENDER = { senderFrame: { url: 'app://rillsheet/index.html', parent: null } };
type StandIn = Awaited<ReturnType<typeof launchStandIn>>;

let shell: StandIn | null = null;
beforeAll(ensureBuilt);
afterEach(async () => {
  await shell?.end();
  shell = null;
});

const folder = mkdtempSync(join(tmpdir(), 'rillsheet-hand-over-'));
const garden = join(folder, 'garden.json');
writeFileSync(garden, '{"a":1}');

/** A shell without pages, its messages to the page kept instead of sent. */
async function quietShell(options: Parameters<typeof launchStandIn>[0] = {}) {
  const started = await launchStandIn({ ...options, hasPages: false });
  shell = started;
  const sent: [string, unknown][] = [];
  const listen = (): void => {
    const contents = started.control.windows[0]?.webContents;
    if (contents) contents.send = (channel: string, value: unknown) => void sent.push([channel, value]);
  };
  listen();
  const say = (channel: string, ...args: unknown[]) =>
    started.control.handlers.get(channel)?.(SENDER, ...args);
  return { started, sent, listen, say };
}

const opened = (sent: readonly [string, unknown][]): string[] =>
  sent.filter(([channel]) => channel === 'open-file').map(([, file]) => (file as { name: string }).name);

describe('a plan handed over by the system', () => {
  it('a plan named on the command line opens once the page is ready, on Windows and Linux', async () => {
    const { sent, say } = await quietShell({ args: [garden] });
    expect(opened(sent)).toEqual([]);
    await say('ready');
    expect(opened(sent)).toEqual(['garden.json']);
    await say('ready');
    expect(opened(sent)).toEqual(['garden.json']);
  });

  it('a plan double-clicked on a Mac before the page is ready waits for it', async () => {
    const { started, sent, say } = await quietShell({ platform: 'darwin' });
    await started.openFromSystem(garden);
    expect(opened(sent)).toEqual([]);
    await say('ready');
    expect(opened(sent)).toEqual(['garden.json']);
    expect(started.control.recentDocuments).toEqual([garden]);
  });

  it('a plan that cannot be read is said so, by its place', async () => {
    const { started, say } = await quietShell({ args: [join(folder, 'gone.json')] });
    await say('ready');
    expect(started.control.dialogs).toMatchObject([{ kind: 'error' }]);
    expect(String(started.control.dialogs[0]?.options.text)).toContain('gone.json');
  });

  it('a second start brings the window forward and opens its plan from the folder it was typed in', async () => {
    const { started, sent, say } = await quietShell();
    await say('ready');
    const window = started.control.windows[0];
    if (window) window.minimized = true;
    await started.startAgain(['garden.json'], folder);
    await expect.poll(() => opened(sent)).toEqual(['garden.json']);
    expect(window?.minimized).toBe(false);
    expect(window?.focused).toBe(1);
  });

  it('a second program gives way to the first at once', async () => {
    shell = await launchStandIn({ hasPages: false, isOnlyInstance: false });
    const { control } = shell;
    await expect.poll(() => control.hasQuit).toBe(true);
    expect(control.windows).toEqual([]);
  });

  it('switches and other files on the command line are not plans', () => {
    expect(planPathIn(['shell', '--trace=x.json', 'notes.txt'], '/plans')).toBeNull();
    expect(planPathIn(['shell', 'beds.geojson'], '/plans')).toBe(join('/plans', 'beds.geojson'));
  });
});

describe('unsaved work', () => {
  it('closing without unsaved work asks nothing, and the program ends but not on a Mac', async () => {
    for (const platform of ['linux', 'win32', 'darwin'] as const) {
      const { started } = await quietShell({ platform });
      await started.closeWindow();
      expect(started.control.dialogs).toEqual([]);
      await new Promise((resolve) => setTimeout(resolve, 20));
      expect(started.control.hasQuit, platform).toBe(platform !== 'darwin');
      await started.end();
    }
  });

  it('on a Mac a plan opens in a new window after the last was closed', async () => {
    const { started, sent, listen, say } = await quietShell({ platform: 'darwin' });
    await started.closeWindow();
    expect(await started.windowCount()).toBe(0);
    await started.openFromSystem(garden);
    expect(await started.windowCount()).toBe(1);
    listen();
    await say('ready');
    expect(opened(sent)).toEqual(['garden.json']);
  });

  it('is asked about by name when the window closes; keeping on keeps the program', async () => {
    const { started, say } = await quietShell();
    await say('setUnsaved', true, 'Front garden');
    expect(started.control.windows[0]?.isEdited).toBe(true);
    await started.answerMessage(1);
    await started.closeWindow();
    expect(await started.windowCount()).toBe(1);
    expect(String(started.control.dialogs[0]?.options.message)).toContain('Front garden');
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(started.control.hasQuit).toBe(false);
  });

  it('saved from the question, the window closes once the save is done', async () => {
    const { started, sent, say } = await quietShell();
    await say('setUnsaved', true, 'Front garden');
    await started.answerMessage(0);
    await started.closeWindow();
    await expect.poll(() => sent).toEqual([['action', 'plan.save']]);
    await started.answerSave(join(folder, 'kept.json'));
    await say('save', null, 'kept.json', new Uint8Array([123, 125]));
    await say('setUnsaved', false, 'Front garden');
    expect(await started.windowCount()).toBe(0);
  });

  it('a save put away keeps the window, and a later save does not close it', async () => {
    const { started, sent, say } = await quietShell();
    await say('setUnsaved', true, 'Front garden');
    await started.answerMessage(0);
    await started.closeWindow();
    await expect.poll(() => sent.length).toBe(1);
    await started.answerSave(null);
    await say('save', null, 'kept.json', new Uint8Array([123, 125]));
    await say('setUnsaved', false, 'Front garden');
    expect(await started.windowCount()).toBe(1);
  });

  it('quitting asks once and goes through with it when told to leave the work', async () => {
    const { started, say } = await quietShell({ platform: 'darwin' });
    const { app } = await import('./standIn/electron');
    await say('setUnsaved', true, 'Front garden');
    await started.answerMessage(2);
    app.quit();
    await expect.poll(() => started.control.hasQuit).toBe(true);
    expect(await started.messagesShown()).toBe(1);
  });

  it('quitting called off leaves the program running, and closing the window later does not quit a Mac', async () => {
    const { started, say } = await quietShell({ platform: 'darwin' });
    const { app } = await import('./standIn/electron');
    await say('setUnsaved', true, 'Front garden');
    await started.answerMessage(1);
    app.quit();
    await expect.poll(() => started.messagesShown()).toBe(1);
    await say('setUnsaved', false, 'Front garden');
    await started.closeWindow();
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(started.control.hasQuit).toBe(false);
  });
});

describe('native menus', () => {
  it("hold every action of the app's own table, by its own words", async () => {
    const { started, sent } = await quietShell();
    const { ACTIONS } = await import('../../src/app/actions/table');
    const items = started.control.menu.flatMap((menu) => menu.submenu ?? []);
    const byId = new Map(items.map((item) => [item.id, item]));
    for (const action of ACTIONS) expect(byId.get(action.key)?.label, action.key).toBe(action.name);
    byId.get('view.whole')?.click?.();
    expect(sent).toEqual([['action', 'view.whole']]);
  });

  it('show keys without taking them from the page, so that a text field keeps its own undo', async () => {
    const { started } = await quietShell();
    const undo = started.control.menu
      .flatMap((menu) => menu.submenu ?? [])
      .find((item) => item.id === 'edit.undo');
    expect(undo).toMatchObject({ accelerator: 'CmdOrCtrl+Z', registerAccelerator: false });
  });

  it("begin with the program's own menu on a Mac alone", async () => {
    const mac = await quietShell({ platform: 'darwin' });
    expect(mac.started.control.menu[0]?.role).toBe('appMenu');
    await mac.started.end();
    const other = await quietShell({ platform: 'win32' });
    expect(other.started.control.menu[0]?.label).toBe('File');
  });
});
