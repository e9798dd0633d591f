import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { bundle } from './bundle.ts';
import { type Contestant, race } from './race.ts';
import { raceTable, stepTable } from './tables.ts';
import { timedProcess } from './timed-process.ts';
import { TRIALS_FILE, writeTrials } from './trial-plots.ts';

const R = 'Rscript';
/** Environment the figures are given at: what our own process takes for the middle of the sites. */
const REFERENCE = '185';

function version(): string | null {
  try {
    return execFileSync(R, ['-e', 'cat(R.version.string)'], {
      stdio: ['ignore', 'pipe', 'ignore'],
    }).toString();
  } catch {
    return null;
  }
}

/** A lineup of 847 products fitted from 50,820 plots: every family and the group, the quadratic alone, and the quadratic by R's nls, whole processes in turn. */
export async function benchFit(programs: string): Promise<void> {
  writeTrials();
  const program = await bundle('fit-trials', programs);
  const own = (name: string, ...families: string[]): Contestant => ({
    name,
    run: () => timedProcess(process.execPath, [program, TRIALS_FILE, ...families]),
  });
  const found = version();
  const script = join(import.meta.dirname, 'fit-trials.R');
  const nls: Contestant = { name: 'R, nls', run: () => timedProcess(R, [script, TRIALS_FILE, REFERENCE]) };
  const ours = [own('Eachacre, all families, leaning'), own('Eachacre, quadratic alone', 'quadratic')];
  console.log(`### 847 products fitted over 107 sites (${found ?? 'R is missing: compared with nothing'})\n`);
  const standings = await race(found ? [...ours, nls] : ours);
  console.log(raceTable(standings.slice(0, 2), standings.slice(2)));
  console.log(stepTable(standings.slice(0, 2)));
}
