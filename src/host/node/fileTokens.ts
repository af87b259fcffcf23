import { randomBytes } from 'node:crypto';
import { basename } from 'node:path';
import type { FileToken } from '../contract';

/** Paths a person chose, by token. The page names files by token only, so it can reach no others. */
export interface FileTokens {
  readonly grant: (path: string) => FileToken;
  /** Null for a token this host never gave. */
  readonly pathOf: (token: unknown) => string | null;
}

export function createFileTokens(): FileTokens {
  const paths = new Map<string, string>();
  const tokens = new Map<string, string>();
  return {
    grant(path) {
      const token = tokens.get(path) ?? randomBytes(16).toString('hex');
      tokens.set(path, token);
      paths.set(token, path);
      return { token, name: basename(path) };
    },
    pathOf: (token) => (typeof token === 'string' ? (paths.get(token) ?? null) : null),
  };
}
