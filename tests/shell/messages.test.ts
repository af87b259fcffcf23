import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt } from '../../build/build.mjs';
import { CALL_CHANNELS } from '../../electron/channels';
import { amount, report } from '../faults/amounts';
import { launchStandIn } from './driver';

/** Messages a channel. */
const RUNS = amount(500, 10_000);
const SENDER = { senderFrame: { url: 'app://rillsheet/index.html', parent: null } };

const escapes = [
  '../../etc/passwd',
  '/etc/passwd',
  'C:\\Windows\\win.ini',
  '..\\..\\secret',
  '\u0000',
  '%2e%2e%2f',
  'file:///etc/passwd',
  '__proto__',
  'constructor',
  '~/.ssh/id_rsa',
];
const anything = fc.oneof(
  fc.anything({
    withBigInt: true,
    withDate: true,
    withTypedArray: true,
    withMap: true,
    withNullPrototype: true,
  }),
  fc.constantFrom(...escapes),
  fc.string({ maxLength: 2000 }),
  fc.uint8Array({ maxLength: 200 }),
  fc.array(fc.record({ label: fc.anything(), extensions: fc.anything() }), { maxLength: 30 }),
);
const message = fc.array(anything, { maxLength: 5 });

describe('messages of every kind and none', () => {
  let shell: Awaited<ReturnType<typeof launchStandIn>>;
  let outside: string;
  beforeAll(async () => {
    await ensureBuilt();
    outside = mkdtempSync(join(tmpdir(), 'rillsheet-outside-'));
    shell = await launchStandIn({ hasPages: false });
    // A person who puts every chooser away: nothing may be written whatever the messages say.
    shell.control.openAnswers = new Array(RUNS * 20).fill(null);
    shell.control.saveAnswers = new Array(RUNS * 20).fill(null);
  });
  afterAll(() => shell?.end());

  for (const channel of CALL_CHANNELS) {
    it(`${channel} answers ${RUNS} malformed messages with data and does nothing`, async () => {
      const handler = shell.control.handlers.get(channel);
      expect(handler).toBeDefined();
      let messages = 0;
      // What earlier channels journaled would be read again at every message.
      rmSync(join(shell.control.dataFolder, 'journal'), { recursive: true, force: true });
      await fc.assert(
        fc.asyncProperty(message, async (args) => {
          messages += 1;
          const answer = (await handler?.(SENDER, ...args)) as { kind?: unknown } | undefined;
          if (answer !== undefined && answer !== null && !Array.isArray(answer))
            expect(['refused', 'cancelled', 'done']).toContain(answer.kind);
          const isWriting = ['save', 'saveAs', 'exportBytes'].includes(channel);
          if (isWriting) expect(answer?.kind).not.toBe('done');
        }),
        { numRuns: RUNS, seed: 20_260_101, endOnFailure: true },
      );
      expect(shell.control.hasQuit).toBe(false);
      expect(readdirSync(outside)).toEqual([]);
      report(`messages to the shell, ${channel}`, { messages });
    });
  }

  it('a journal of any name stays inside the program’s own folder', async () => {
    const append = shell.control.handlers.get('journalAppend');
    for (const name of escapes) await append?.(SENDER, name, 'a line', 'Garden', true);
    const journals = readdirSync(join(shell.control.dataFolder, 'journal'));
    expect(journals.every((name) => /^[0-9a-f]{24}\.journal$/.test(name))).toBe(true);
    expect(existsSync(join(shell.control.dataFolder, '..', 'etc'))).toBe(false);
  });

  it('a journal keeps the name of its plan and where its story begins, to be offered by after a fall', async () => {
    const append = shell.control.handlers.get('journalAppend');
    expect(await append?.(SENDER, 'plan-1', 'first', 'Back garden', true)).toMatchObject({ kind: 'done' });
    expect(await append?.(SENDER, 'plan-1', 'second', 'Back garden', false)).toMatchObject({ kind: 'done' });
    expect(await shell.control.handlers.get('journalRead')?.(SENDER)).toContainEqual({
      planId: 'plan-1',
      name: 'Back garden',
      lines: ['first', 'second'],
    });
  });

  it('a token of any text opens and saves nothing', async () => {
    for (const token of escapes) {
      expect(await shell.control.handlers.get('openRecent')?.(SENDER, token)).toMatchObject({
        kind: 'refused',
      });
      expect(
        await shell.control.handlers.get('save')?.(SENDER, token, 'x.json', new Uint8Array([1])),
      ).toMatchObject({ kind: 'refused', code: 'host.unknown-file' });
    }
  });

  it('a name that climbs is offered to the person as a plain name', async () => {
    const before = shell.control.dialogs.length;
    for (const name of escapes)
      await shell.control.handlers.get('saveAs')?.(SENDER, name, new Uint8Array([1]));
    const offered = shell.control.dialogs.slice(before).map((shown) => String(shown.options.defaultPath));
    expect(offered.length).toBe(escapes.length);
    for (const name of offered) expect(name).not.toMatch(/[\\/\p{Cc}:]|^\.\.?$/u);
  });
});
