import { contentTypeOf, readBundleFile, SAFE_HEADERS } from '../src/host/node';

/** Address of the app inside its own protocol. */
export const ORIGIN = 'app://rillsheet';

/** Answers a request of the app's own protocol with a file of the bundle, and with nothing else. */
export async function serveBundle(bundleFolder: string, request: Request): Promise<Response> {
  const url = new URL(request.url);
  const file = url.host === 'rillsheet' ? await readBundleFile(bundleFolder, url.pathname) : null;
  if (file === null) return new Response('not here', { status: 404, headers: SAFE_HEADERS });
  return new Response(new Uint8Array(file.bytes), {
    headers: { ...SAFE_HEADERS, 'content-type': contentTypeOf(file.path) },
  });
}
