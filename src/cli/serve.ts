import { createReadStream, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Refusal } from '../engine/issue.ts';
import { tell } from './tell.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
  '.geojson': 'application/geo+json',
  '.zip': 'application/zip',
  '.csv': 'text/csv; charset=utf-8',
};

/** Only its own files, nothing inline, no frame around it. */
const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; worker-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/** `eachacre serve`: the app on 127.0.0.1, for this machine only. Runs until stopped. */
export async function serve(options: { port: number }): Promise<number> {
  const root = fileURLToPath(new URL('../app/', import.meta.url));
  if (!statSync(join(root, 'index.html'), { throwIfNoEntry: false })) {
    throw new Refusal({
      code: 'app-not-built',
      where: root,
      found: 'no built app',
      expected: 'an index.html in this folder',
      effect: 'There is nothing to open',
      remedy: 'Build it first, where the program comes from: npm run build',
    });
  }
  const server = createServer((request, response) => {
    const file = fileAsked(root, request.url ?? '/');
    const stats = file === null ? undefined : statSync(file, { throwIfNoEntry: false });
    if (file === null || !stats?.isFile() || (request.method !== 'GET' && request.method !== 'HEAD')) {
      response.writeHead(404, { 'content-type': 'text/plain; charset=utf-8' }).end('Not here');
      return;
    }
    response.writeHead(200, {
      'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
      'content-length': stats.size,
      'content-security-policy': POLICY,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cache-control': 'no-cache',
    });
    if (request.method === 'HEAD') response.end();
    else createReadStream(file).pipe(response);
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', (thrown) =>
      reject(
        new Refusal({
          code: 'port-not-open',
          where: `port ${options.port}`,
          found: thrown.message,
          expected: 'a free port',
          effect: 'The app is not served',
          remedy: 'Choose another with --port, or 0 for any',
        }),
      ),
    );
    server.listen(options.port, '127.0.0.1', resolve);
  });
  const address = server.address();
  tell(
    `Eachacre is open at http://127.0.0.1:${typeof address === 'object' && address ? address.port : options.port}/ (Ctrl-C ends it)`,
  );
  await new Promise<void>((resolve) => {
    process.once('SIGINT', resolve);
    process.once('SIGTERM', resolve);
  });
  server.close();
  server.closeAllConnections();
  return 0;
}

/** The file below the root that an address names; null when it names none there could be. */
function fileAsked(root: string, address: string): string | null {
  try {
    const path = decodeURIComponent(new URL(address, 'http://127.0.0.1').pathname);
    const file = normalize(join(root, path.endsWith('/') ? `${path}index.html` : path));
    return file.startsWith(root.endsWith(sep) ? root : root + sep) && !file.includes('\0') ? file : null;
  } catch {
    return null;
  }
}
