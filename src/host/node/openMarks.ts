import { createHash } from 'node:crypto';
import { mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { isAlive } from './safeWrite';

/** Which running programs of ours have which file open, as empty files in the program's own folder. */
export interface OpenMarks {
  /** Marks a file as open here. True where another running program has it open. */
  readonly open: (path: string) => Promise<boolean>;
  /** Takes all marks of this program away. */
  readonly close: () => Promise<void>;
}

/** Marks in `folder`: `<file>.<program's number>`. Those of programs that ended without a word are swept. */
export function createOpenMarks(folder: string): OpenMarks {
  const own = new Set<string>();
  return {
    async open(path) {
      const key = createHash('sha256').update(path).digest('hex').slice(0, 24);
      await mkdir(folder, { recursive: true });
      let isElsewhere = false;
      for (const name of await readdir(folder)) {
        const [file, program] = name.split('.');
        const pid = Number(program);
        if (pid === process.pid) continue;
        if (!Number.isInteger(pid) || !isAlive(pid)) await rm(join(folder, name), { force: true });
        else if (file === key) isElsewhere = true;
      }
      const mark = join(folder, `${key}.${process.pid}`);
      await writeFile(mark, '');
      own.add(mark);
      return isElsewhere;
    },
    async close() {
      for (const mark of own) await rm(mark, { force: true }).catch(() => undefined);
      own.clear();
    },
  };
}
