import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Install the locked packages when they are not there or the lock file has changed since. No install scripts are run. */
export function installWhatIsMissing(root) {
  const [major] = process.versions.node.split('.').map(Number);
  if (major < 20) {
    console.error(
      `Node ${process.versions.node} is too old: install Node 20 or newer (nodejs.org, or your system's packages).`,
    );
    process.exit(1);
  }
  const lock = join(root, 'package-lock.json');
  const installed = join(root, 'node_modules/.installed-lock.json');
  if (existsSync(installed) && readFileSync(installed).equals(readFileSync(lock))) return;
  console.error('Installing packages…');
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const { status } = spawnSync(npm, ['ci', '--ignore-scripts', '--no-audit', '--no-fund'], {
    cwd: root,
    // Packages are no part of the answer on stdout.
    stdio: ['ignore', 2, 'inherit'],
    shell: process.platform === 'win32',
  });
  if (status !== 0) process.exit(status ?? 1);
  copyFileSync(lock, installed);
}
