/** A browser that tests can drive, or null. */
export function findBrowser(): string | null;
export function ensureSystemPackages(): void;
