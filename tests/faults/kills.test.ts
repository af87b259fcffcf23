import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as rest } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type PlanPatch, perform, replay, startHistory, writePlan } from '../../src/core/plan';
import { backupNameOf, createJournalFolder, sweepUnfinished } from '../../src/host/node';
import { amount, report } from './amounts';
import { buildChildren, start } from './child';
import { editOf, startingPlan } from './children/drawing';
import { versionOf, versionText } from './children/versions';
import { seeded } from './mutate';

let folder: string;
let scripts: Record<'saver' | 'drawer', string>;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-kills-'));
  scripts = await buildChildren(['saver', 'drawer']);
}, 120_000);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  rmSync(join(scripts.saver, '..'), { recursive: true, force: true });
});

/** Waits until a child has said something, so that the kill falls into its work and not into its start. */
async function firstWord(said: () => string): Promise<void> {
  for (let waits = 0; said() === '' && waits < 6000; waits++) await rest(5);
}

/** Last number on a whole line of what a child said. */
const lastNumber = (said: string): number => Number(/(\d+)[^\n]*\n(?:[^\n]*)$/.exec(said)?.[1] ?? 0);

describe('killed without warning', () => {
  it('while it saves: the file is whole, never older than the last save that was said, and temporaries are swept', {
    timeout: 3_600_000,
  }, async () => {
    const random = seeded(9);
    const kills = amount(60, 500);
    const counts = {
      kills,
      'old version kept': 0,
      'new version in place': 0,
      'temporaries swept': 0,
      unreadable: 0,
    };
    const path = join(folder, 'garden.json');
    writeFileSync(path, versionText(0));
    let standing = 0;
    for (let kill = 0; kill < kills; kill++) {
      const { child, said, ended } = start(scripts.saver, [path, String(standing + 1)]);
      await firstWord(said);
      await rest(random() * 15);
      child.kill('SIGKILL');
      await ended;
      const told = Math.max(standing, lastNumber(said()));
      const found = versionOf(readFileSync(path, 'utf8'));
      const backup = versionOf(readFileSync(backupNameOf(path), 'utf8'));
      if (found === null || backup === null) counts.unreadable += 1;
      else {
        expect(found).toBeGreaterThanOrEqual(told);
        counts[found === told ? 'old version kept' : 'new version in place'] += 1;
        standing = found;
      }
      counts['temporaries swept'] += (await sweepUnfinished(folder)).length;
      expect(readdirSync(folder).filter((name) => name.endsWith('.unfinished'))).toEqual([]);
    }
    report('kill -9 during save', counts);
    expect(counts.unreadable).toBe(0);
    // Kills that never fell into a save would prove nothing.
    expect(counts['temporaries swept']).toBeGreaterThan(0);
  });

  it('while it draws: at most two seconds of edits are lost, and the saved file is as it was', {
    timeout: 3_600_000,
  }, async () => {
    const random = seeded(10);
    const kills = amount(20, 200);
    let edits = 0;
    let lost = 0;
    const saved = join(folder, 'drawn.json');
    const savedText = writePlan(startingPlan());
    writeFileSync(saved, savedText);
    for (let kill = 0; kill < kills; kill++) {
      const data = join(folder, `data-${kill}`);
      mkdirSync(data);
      const { child, said, ended } = start(scripts.drawer, [data, String(kill % 3)]);
      await firstWord(said);
      await rest(random() * 150);
      const killedAt = Date.now();
      child.kill('SIGKILL');
      await ended;
      const told = said()
        .split('\n')
        .slice(0, -1)
        .map((line) => line.split(' ').map(Number));
      const older = told.filter(([, at = 0]) => at < killedAt - 2000).length;
      const [found] = await createJournalFolder(join(data, 'journal')).read();
      const steps = (found?.lines ?? []).slice(1).map((line) => JSON.parse(line).patches as PlanPatch[]);
      expect(found?.name).toBe('garden.rillsheet.json');
      expect(steps.length).toBeGreaterThanOrEqual(older);
      let history = startHistory(startingPlan());
      for (let n = 1; n <= steps.length; n++) {
        const done = perform(history, editOf(n));
        if (done.ok) history = done.value.history;
      }
      expect(replay(startingPlan(), steps)).toEqual(history.plan);
      expect(readFileSync(saved, 'utf8')).toBe(savedText);
      edits += told.length;
      lost += Math.max(0, told.length - steps.length);
      rmSync(data, { recursive: true });
    }
    report('kill -9 while drawing', { kills, 'edits said to be kept': edits, 'edits of them lost': lost });
    expect(edits).toBeGreaterThan(kills);
  });
});
