import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { dirname, join, sep } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCli, builtFile, eachacre } from './built.ts';

let app = '';
let server: ChildProcess | null = null;
let port = 0;
beforeAll(async () => {
  await buildCli();
  app = join(dirname(builtFile()), '../app');
});
afterAll(() => {
  server?.kill('SIGTERM');
  rmSync(app, { recursive: true, force: true });
});

/** The status and body of a raw path; the path is sent as it stands. */
function ask(path: string, method = 'GET'): Promise<{ status: number; body: string; policy: unknown }> {
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, method }, (response) => {
      let body = '';
      response.setEncoding('utf8');
      response.on('data', (part: string) => {
        body += part;
      });
      response.on('end', () =>
        resolve({
          status: response.statusCode ?? 0,
          body,
          policy: response.headers['content-security-policy'],
        }),
      );
    });
    asked.on('error', reject);
    asked.end();
  });
}

describe('serve', () => {
  it('says so when the app is not built', () => {
    const { code, err } = eachacre(['serve', '--port', '0']);
    expect(code).toBe(1);
    expect(err).toContain('[app-not-built]');
    expect(err).toContain(`${app}${sep}: no built app`);
    expect(err).toContain('npm run build');
  });
  it('prints its address and serves its own files, with a policy', async () => {
    mkdirSync(app, { recursive: true });
    writeFileSync(join(app, 'index.html'), '<!doctype html><title>field</title>');
    writeFileSync(join(app, '../secret.txt'), 'secret');
    server = spawn(process.execPath, [builtFile(), 'serve', '--port', '0']);
    const said = await new Promise<string>((resolve) =>
      server?.stdout?.once('data', (data) => resolve(String(data))),
    );
    port = Number(said.match(/http:\/\/127\.0\.0\.1:(\d+)\//)?.[1]);
    expect(port).toBeGreaterThan(0);
    const { status, body, policy } = await ask('/');
    expect([status, body]).toEqual([200, '<!doctype html><title>field</title>']);
    expect(policy).toContain("default-src 'none'");
  });
  it.each([
    '/%E0%A4%A',
    '/%00',
    '/../secret.txt',
    '/..%2fsecret.txt',
    '/%2e%2e/secret.txt',
    '//',
    '/nothing.js',
  ])('has nothing at %s and stays up', async (path) => {
    const { status, body } = await ask(path);
    expect(status).toBe(404);
    expect(body).not.toContain('secret');
    expect((await ask('/index.html')).status).toBe(200);
  });
  it('answers no other method', async () => {
    expect((await ask('/', 'POST')).status).toBe(404);
    expect(await ask('/', 'HEAD')).toMatchObject({ status: 200, body: '' });
  });
  it('says so when the port is taken', () => {
    const { code, err } = eachacre(['serve', '--port', String(port)]);
    expect(code).toBe(1);
    expect(err).toContain('[port-not-open]');
    expect(err).not.toMatch(/^\s+at /m);
  });
  it('ends when told to', async () => {
    const ended = new Promise((resolve) => server?.once('exit', resolve));
    server?.kill('SIGTERM');
    expect(await ended).toBe(0);
  });
});
