import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeSafely } from './safeWrite';

const MOST_NAMES = 50;
const LONGEST_NAME = 40;
const LONGEST_TEXT = 20_000;

/** Small texts by name, kept in the program's own folder from one start to the next. */
export interface Memory {
  readonly recall: () => Promise<Readonly<Record<string, string>>>;
  /** Null forgets. A name or a text beyond its bounds, and what the disk refuses, is not kept. */
  readonly remember: (name: string, value: string | null) => Promise<void>;
}

/** A memory in `folder`. A damaged file is an empty memory. */
export function createMemory(folder: string): Memory {
  const path = join(folder, 'remembered.json');
  let queue: Promise<unknown> = Promise.resolve();
  const recall = async (): Promise<Readonly<Record<string, string>>> => {
    try {
      const kept: unknown = JSON.parse(await readFile(path, 'utf8'));
      if (typeof kept !== 'object' || kept === null) return {};
      const texts = Object.entries(kept).filter(
        (entry): entry is [string, string] => typeof entry[1] === 'string',
      );
      return Object.fromEntries(texts.slice(0, MOST_NAMES));
    } catch {
      return {};
    }
  };
  const write = async (name: string, value: string | null): Promise<void> => {
    const { [name]: _before, ...others } = await recall();
    const next = value === null ? others : { ...others, [name]: value };
    if (Object.keys(next).length > MOST_NAMES) return;
    await mkdir(folder, { recursive: true });
    await writeSafely(path, new TextEncoder().encode(`${JSON.stringify(next, null, 1)}\n`));
  };
  return {
    recall,
    remember(name, value) {
      if (name === '' || name.length > LONGEST_NAME || (value?.length ?? 0) > LONGEST_TEXT)
        return Promise.resolve();
      const turn = queue.then(() => write(name, value)).catch(() => undefined);
      queue = turn;
      return turn;
    },
  };
}
