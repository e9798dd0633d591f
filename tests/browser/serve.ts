import { existsSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';

export const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; worker-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; report-uri /violations";

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
};

/** Serves a folder on 127.0.0.1 under the strict policy, as a header on every answer, so that workers stand under it too; what the policy stops is reported back here. */
export async function serve(folder: string) {
  const missing: string[] = [];
  const violations: string[] = [];
  const server = createServer((request, response) => {
    if (request.method === 'POST' && request.url === '/violations') {
      let body = '';
      request.on('data', (piece) => {
        body += piece;
      });
      request.on('end', () => {
        violations.push(body);
        response.end();
      });
      return;
    }
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://here').pathname));
    const file = join(folder, path === '/' ? 'index.html' : path);
    response.setHeader('content-security-policy', POLICY);
    if (path.includes('..') || !existsSync(file) || !statSync(file).isFile()) {
      missing.push(path);
      response.statusCode = 404;
      response.end();
      return;
    }
    response.setHeader('content-type', types[extname(file)] ?? 'application/octet-stream');
    response.end(readFileSync(file));
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    /** Paths asked for that are not there. */
    missing,
    /** Reports of anything the policy stopped, from the page and from its workers. */
    violations,
    close: () => new Promise((closed) => server.close(closed)),
  };
}
