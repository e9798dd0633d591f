import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { build } from 'vite';

let copy: string | null = null;

const HOME = join(import.meta.dirname, '../..');
const MAIN = join(HOME, 'dist/cli/main.js');
/** Nothing may hang: a command still running after this is killed and its test fails, ms. */
const LONGEST_MS = 20_000;

export const SAMPLES = join(HOME, 'sample-fields');

/**
 * Build the command line unless it is newer than every source. Built aside and moved in, then run from a copy: test files run side by side, and a build
 * elsewhere must not pull the file from under them.
 */
export async function buildCli(): Promise<void> {
  const built = existsSync(MAIN) ? statSync(MAIN).mtimeMs : 0;
  const newest = readdirSync(join(HOME, 'src'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .reduce((latest, entry) => Math.max(latest, statSync(join(entry.parentPath, entry.name)).mtimeMs), 0);
  if (built <= newest) await rebuild();
  if (copy !== null) return;
  const own = mkdtempSync(join(tmpdir(), 'eachacre-cli-'));
  copy = join(own, 'cli/main.mjs');
  cpSync(MAIN, copy);
  process.once('exit', () => rmSync(own, { recursive: true, force: true }));
}

async function rebuild(): Promise<void> {
  const aside = mkdtempSync(join(tmpdir(), 'eachacre-cli-'));
  await build({
    root: HOME,
    configFile: join(HOME, 'vite.cli.config.ts'),
    logLevel: 'error',
    build: { outDir: aside },
  });
  mkdirSync(join(HOME, 'dist/cli'), { recursive: true });
  const part = `${MAIN}.part-${process.pid}`;
  cpSync(join(aside, 'main.js'), part);
  renameSync(part, MAIN);
  rmSync(aside, { recursive: true });
}

/** The built file that tests run; what it serves would lie in `../app` beside it. */
export function builtFile(): string {
  if (copy === null) throw new Error('buildCli first');
  return copy;
}

export interface Answer {
  /** Exit code; null when the command had to be killed. */
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Run the built command line as a user would. */
export function eachacre(
  args: readonly string[],
  options: { cwd?: string; env?: Readonly<Record<string, string>> } = {},
): Answer {
  const done = spawnSync(process.execPath, [builtFile(), ...args], {
    cwd: options.cwd ?? HOME,
    env: { ...process.env, ...options.env },
    encoding: 'utf8',
    timeout: LONGEST_MS,
    maxBuffer: 64 * 1024 * 1024,
  });
  return { code: done.status, out: done.stdout, err: done.stderr };
}

/** A new empty folder; the caller removes it. */
export function freshFolder(): string {
  return mkdtempSync(join(tmpdir(), 'eachacre-test-'));
}

/** Every file under a folder with its bytes, by its path inside. */
export function tree(folder: string): Map<string, string> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) =>
    entry.isFile(),
  );
  return new Map(
    files
      .map((entry) => join(entry.parentPath, entry.name))
      .sort()
      .map((path) => [relative(folder, path), readFileSync(path, 'latin1')]),
  );
}
