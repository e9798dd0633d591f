import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** Where a Chromium is: CHROMIUM_PATH, else the usual places. Null when there is none. */
export function chromiumPath() {
  return [process.env.CHROMIUM_PATH, ...PLACES].find((path) => path && existsSync(path)) ?? null;
}

/** Make sure there is a Chromium: install Debian's when we may, else say what to install and stop. */
export function chromiumOrExit() {
  if (chromiumPath()) return;
  const root = process.getuid?.() === 0;
  if (root && existsSync('/usr/bin/apt-get')) {
    console.error('Installing Chromium for the browser tests…');
    const apt = (...args) =>
      spawnSync('apt-get', args, {
        stdio: ['ignore', 'ignore', 'inherit'],
        env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
      }).status === 0;
    if (
      apt('update', '-qq') &&
      apt('install', '-y', '-qq', 'chromium', 'fonts-dejavu-core') &&
      chromiumPath()
    )
      return;
  }
  console.error(
    'The browser tests need Chromium, which is not here. Install it (Debian: sudo apt-get install chromium) or name one in CHROMIUM_PATH.\n' +
      'To leave the browser tests out: npm test -- --without-browser',
  );
  process.exit(1);
}
