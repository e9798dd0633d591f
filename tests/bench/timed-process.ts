import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';

export interface Timed {
  /** Wall time from starting the process to its end, ms. */
  readonly ms: number;
  /** Most memory it held at once, MB; null where the system does not tell. */
  readonly peak_MB: number | null;
  readonly output: string;
}

/** Runs one program to its end and times it. Throws, with what it said, when it fails. */
export function timedProcess(
  program: string,
  args: readonly string[],
  environment: Readonly<Record<string, string>> = {},
): Promise<Timed> {
  return new Promise((resolve, reject) => {
    const from = performance.now();
    const child = spawn(program, args, { env: { ...process.env, ...environment } });
    const said: string[] = [];
    let peak_MB: number | null = null;
    // The kernel keeps the high-water mark, so the last look before the end has it.
    const looking = setInterval(() => {
      peak_MB = highWater_MB(child.pid) ?? peak_MB;
    }, 20);
    child.stdout.on('data', (bytes: Buffer) => said.push(bytes.toString()));
    child.stderr.on('data', (bytes: Buffer) => said.push(bytes.toString()));
    child.on('error', reject);
    child.on('close', (code) => {
      const ms = performance.now() - from;
      clearInterval(looking);
      const output = said.join('');
      if (code === 0) resolve({ ms, peak_MB, output });
      else reject(new Error(`${program} ${args.join(' ')}\nended with ${code}: ${output}`));
    });
  });
}

function highWater_MB(pid: number | undefined): number | null {
  try {
    const status = readFileSync(`/proc/${pid}/status`, 'utf8');
    const found = /VmHWM:\s+(\d+) kB/.exec(status);
    return found ? Number(found[1]) / 1024 : null;
  } catch {
    return null;
  }
}
