import type { FileKind } from '../src/host/contract';

/** A message whose parts are not what they must be. The page gets a refusal; nothing is done. */
export class BadMessage extends Error {}

const MAX_BYTES = 96_000_000;

export function textOf(value: unknown, maxLength = 1000): string {
  if (typeof value !== 'string' || value.length > maxLength) throw new BadMessage('text expected');
  return value;
}

export function bytesOf(value: unknown): Uint8Array {
  if (!(value instanceof Uint8Array) || value.length > MAX_BYTES) throw new BadMessage('bytes expected');
  return value;
}

export function tokenOf(value: unknown): string | null {
  return value === null ? null : textOf(value, 100);
}

export function flagOf(value: unknown): boolean {
  if (typeof value !== 'boolean') throw new BadMessage('yes or no expected');
  return value;
}

export function fileKindsOf(value: unknown): FileKind[] {
  if (!Array.isArray(value) || value.length > 20) throw new BadMessage('file kinds expected');
  return value.map((kind: unknown) => {
    const entry = kind as { label?: unknown; extensions?: unknown } | null;
    if (
      typeof entry !== 'object' ||
      entry === null ||
      !Array.isArray(entry.extensions) ||
      entry.extensions.length > 20
    )
      throw new BadMessage('file kind expected');
    const extensions = entry.extensions.map((extension) => textOf(extension, 20));
    if (!extensions.every((extension) => /^[a-z0-9]+$/i.test(extension)))
      throw new BadMessage('file ending expected');
    return { label: textOf(entry.label, 100), extensions };
  });
}
