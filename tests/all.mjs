// `npm test`: everything, in the order in which it is cheapest to fail. `--without-browser` leaves the browser out, loudly.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { installWhatIsMissing } from '../src/cli/install.mjs';
import { chromiumOrExit } from './chromium.mjs';

const root = fileURLToPath(new URL('../', import.meta.url));
const withoutBrowser = process.argv.includes('--without-browser');
const bin = (...path) => join(root, 'node_modules', ...path);
const failed = [];
const counts = { passed: 0, failed: 0, skipped: 0 };

installWhatIsMissing(root);
if (!withoutBrowser) chromiumOrExit();

step('types of everything', bin('typescript/bin/tsc'), '--noEmit');
step('types of the engine, which sees no machine', bin('typescript/bin/tsc'), '--noEmit', '-p', 'src/engine');
step('types of the app', bin('svelte-check/bin/svelte-check'), '--output', 'machine', '--fail-on-warnings');
step('lint and format', bin('@biomejs/biome/bin/biome'), 'check', '--error-on-warnings');
step('dead code', bin('knip/bin/knip.js'));
step('build of the app', bin('vite/bin/vite.js'), 'build', '--logLevel', 'warn');
step(
  'build of the command line',
  bin('vite/bin/vite.js'),
  'build',
  '--config',
  'vite.cli.config.ts',
  '--logLevel',
  'warn',
);
vitest('unit and reference tests', 'engine');
if (withoutBrowser) console.log('\n!!! The browser tests were LEFT OUT (--without-browser). !!!');
else vitest('browser tests', 'browser');

for (const name of failed) console.log(`FAILED: ${name}`);
const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : '';
console.log(`${counts.passed} passed, ${counts.failed} failed${skipped}`);
process.exit(failed.length > 0 ? 1 : 0);

function step(name, script, ...args) {
  console.log(`\n== ${name}`);
  const { status } = spawnSync(process.execPath, [script, ...args], { cwd: root, stdio: 'inherit' });
  if (status !== 0) failed.push(name);
}

/** A vitest project, its counts added up; a run that counts nothing has failed. */
function vitest(name, project) {
  const file = join(root, 'node_modules', `.results-${project}.json`);
  rmSync(file, { force: true });
  step(
    name,
    bin('vitest/vitest.mjs'),
    'run',
    '--project',
    project,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${file}`,
  );
  const results = existsSync(file)
    ? JSON.parse(readFileSync(file, 'utf8'))
    : { numPassedTests: 0, numFailedTests: 0, numPendingTests: 0 };
  counts.passed += results.numPassedTests;
  counts.failed += results.numFailedTests;
  counts.skipped += results.numPendingTests;
  if (results.numPassedTests === 0 && !failed.includes(name)) failed.push(`${name}: no test ran`);
}
