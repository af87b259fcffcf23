import { chownSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

/** Somebody without rights, by the number that Linux and the BSDs keep for it. */
const NOBODY = 65_534;

/**
 * Acts as a user to whom permissions apply. The superuser may write anywhere, so a tester who is root gives a folder and all
 * that is in it to nobody and acts as nobody; any other tester acts as himself, the owner.
 */
export async function asPlainUser<T>(folder: string, act: () => Promise<T>): Promise<T> {
  if (process.getuid?.() !== 0) return act();
  chownSync(folder, NOBODY, NOBODY);
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }))
    chownSync(join(folder, name), NOBODY, NOBODY);
  process.seteuid?.(NOBODY);
  try {
    return await act();
  } finally {
    process.seteuid?.(0);
  }
}
