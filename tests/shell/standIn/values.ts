/** A value as text for the way between the page and the shell; bytes stay bytes. Functions do not cross, as in the real runtime. */
export function packValue(value: unknown): string {
  return JSON.stringify(structuredClone(value) ?? null, (_key, item) =>
    item instanceof Uint8Array ? { $bytes: Buffer.from(item).toString('base64') } : item,
  );
}

/** Takes a packed value apart again. */
export function unpackValue(text: string): unknown {
  return JSON.parse(text, (_key, item) =>
    item !== null && typeof item === 'object' && typeof item.$bytes === 'string'
      ? new Uint8Array(Buffer.from(item.$bytes, 'base64'))
      : item,
  );
}
