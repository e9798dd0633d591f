import { arch, cpus, loadavg, platform, totalmem } from 'node:os';

/** The machine in one line. */
export function machine(): string {
  const cores = cpus();
  const memory_GB = (totalmem() / 1024 ** 3).toFixed(1);
  return `${cores.length} cores, ${cores[0]?.model.trim() ?? 'unknown'}, ${memory_GB} GB, ${platform()} ${arch()}, Node ${process.version}`;
}

/** How busy it is, over the last minute: 0 is idle. */
export function load(): number {
  return loadavg()[0];
}
