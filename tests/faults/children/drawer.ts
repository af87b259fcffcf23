import { writeSync } from 'node:fs';
import { setTimeout as rest } from 'node:timers/promises';
import { perform, startHistory } from '../../../src/core/plan';
import { createFileHost } from '../../../src/host/node';
import { editOf, startingPlan } from './drawing';

/** Draws one edit after another, each into the journal, until it is killed; says each number once its line is taken. */
const [dataFolder = '', pauseMs = '0'] = process.argv.slice(2);
const host = createFileHost({
  dataFolder,
  now: () => '2026-01-01T00:00:00Z',
  chooser: { openPath: async () => null, savePath: async () => null },
});
let history = startHistory(startingPlan());
const { id: planId } = history.plan;
const name = 'garden.rillsheet.json';
await host.journalAppend({ planId, name, begins: true, line: JSON.stringify({ base: history.plan }) });
for (let n = 1; ; n++) {
  const done = perform(history, editOf(n));
  if (!done.ok) throw new Error('the edit is sound');
  history = done.value.history;
  const line = JSON.stringify({ patches: done.value.applied.forward });
  const answer = await host.journalAppend({ planId, name, line });
  if (answer.kind !== 'done') throw new Error('the line is taken');
  writeSync(1, `${n} ${Date.now()}\n`);
  if (Number(pauseMs) > 0) await rest(Number(pauseMs));
}
