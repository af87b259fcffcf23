import { readFile, realpath } from 'node:fs/promises';
import { join, normalize, sep } from 'node:path';

/**
 * Reads one file of the built app by the path of an address. Null for what is not there or lies outside the bundle; folders are never listed.
 */
export async function readBundleFile(
  bundleFolder: string,
  addressPath: string,
): Promise<{ readonly path: string; readonly bytes: Uint8Array } | null> {
  let plain: string;
  try {
    plain = decodeURIComponent(addressPath === '/' ? '/index.html' : addressPath);
  } catch {
    return null;
  }
  if (plain.includes('\0')) return null;
  const root = normalize(bundleFolder + sep);
  const path = normalize(join(root, plain));
  if (!path.startsWith(root)) return null;
  try {
    // A link in the bundle must not lead out of it either.
    const real = await realpath(path);
    if (!real.startsWith((await realpath(root)) + sep)) return null;
    return { path, bytes: await readFile(real) };
  } catch {
    return null;
  }
}
