/** The desktop runtime's binary where it is here, or null. */
export function findRuntime(): string | null;
/** Fetches the binary once; null where it could not be. */
export function fetchRuntime(options?: { readonly again?: boolean }): string | null;
