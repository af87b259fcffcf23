import { PLAN_VERSION } from './schema';

/** Turns a document of one version into the next. Pure; never edited once released. */
type Migration = (document: Readonly<Record<string, unknown>>) => Record<string, unknown>;

/** The chain: entry n makes version n + 1 out of version n. Version 1 is the first, so the chain is empty. */
const MIGRATIONS: Readonly<Record<number, Migration>> = {};

/**
 * Brings an older document up to the present version.
 *
 * @param document a plan document whose `version` is a whole number not above the present one
 * Fails: throws if the chain has a hole, which is our bug.
 */
export function migrateDocument(document: Readonly<Record<string, unknown>>): Record<string, unknown> {
  let current: Record<string, unknown> = { ...document };
  for (let version = Number(document.version); version < PLAN_VERSION; version += 1) {
    const step = MIGRATIONS[version];
    if (step === undefined) throw new Error(`no migration from plan version ${version}`);
    current = { ...step(current), version: version + 1 };
  }
  return current;
}
