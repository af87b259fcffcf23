import { expect, it } from 'vitest';
import { during, useBusy } from '../../../src/app/state/busy';

const shown = (): string | undefined => useBusy.getState().busy?.label;

it('shows the work that began first, whatever begins and ends meanwhile, and then what still goes on', async () => {
  let endFirst = (): void => undefined;
  let endLast = (): void => undefined;
  const first = during('first', () => new Promise<void>((resolve) => (endFirst = resolve)));
  const second = during('second', () => Promise.resolve());
  expect(shown()).toBe('first');
  await second;
  expect(shown()).toBe('first');
  const last = during('last', () => new Promise<void>((resolve) => (endLast = resolve)));
  endFirst();
  await first;
  expect(shown()).toBe('last');
  endLast();
  await last;
  expect(shown()).toBeUndefined();
});

it('stops the very work that is shown', async () => {
  const stopped = during('stopped', () => new Promise<string>(() => undefined));
  const other = during('other', () => Promise.resolve('done'));
  useBusy.getState().busy?.stop();
  expect(await stopped).toBeNull();
  expect(await other).toBe('done');
});
