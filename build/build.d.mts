/** True when a built file is missing or older than the sources. */
export function isStale(builtFile: string): boolean;
export function buildAll(): Promise<void>;
/** Builds what is missing or older than its sources. */
export function ensureBuilt(): Promise<void>;
