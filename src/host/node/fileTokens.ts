import { randomBytes } from 'node:crypto';
import { basename } from 'node:path';
import type { FileToken } from '../contract';

/** Paths a person chose, by token. The page names files by token only, so it can reach no others. */
export interface FileTokens {
  /** The same token for a path each time: a line of the recent list. */
  readonly grant: (path: string) => FileToken;
  /** A token of its own for one opening, so that two windows on one file are told apart. */
  readonly grantOpening: (path: string) => FileToken;
  /** Null for a token this host never gave. */
  readonly pathOf: (token: unknown) => string | null;
}

export function createFileTokens(): FileTokens {
  const paths = new Map<string, string>();
  const tokens = new Map<string, string>();
  const newToken = (): string => randomBytes(16).toString('hex');
  return {
    grantOpening(path) {
      const token = newToken();
      paths.set(token, path);
      return { token, name: basename(path) };
    },
    grant(path) {
      const token = tokens.get(path) ?? newToken();
      tokens.set(path, token);
      paths.set(token, path);
      return { token, name: basename(path) };
    },
    pathOf: (token) => (typeof token === 'string' ? (paths.get(token) ?? null) : null),
  };
}
