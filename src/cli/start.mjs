// `npm start`: install what is missing, build, run the main job on a sample field, open the app.
// Plain JavaScript with nothing but Node behind it, since it runs before anything is installed.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { installWhatIsMissing } from './install.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));
const args = process.argv.slice(2);
const node = (...command) => run(process.execPath, command);

installWhatIsMissing(root);
if (!args.includes('--no-build') || !existsSync(join(root, 'dist/cli/main.js'))) {
  const vite = join(root, 'node_modules/vite/bin/vite.js');
  node(vite, 'build', '--logLevel', 'warn');
  node(vite, 'build', '--config', 'vite.cli.config.ts', '--logLevel', 'warn');
}
const cli = join(root, 'dist/cli/main.js');
node(
  cli,
  'run',
  'sample-fields/marl-hollow/marl-hollow.plan.json',
  '--out',
  'handoff/marl-hollow',
  '--force',
);
if (!args.includes('--no-serve')) {
  const port = args.find((arg) => arg.startsWith('--port='))?.slice('--port='.length);
  node(cli, 'serve', ...(port ? ['--port', port] : []));
}

function run(command, commandArgs) {
  const { status, signal } = spawnSync(command, commandArgs, { cwd: root, stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? (signal === 'SIGINT' ? 130 : 1));
}
