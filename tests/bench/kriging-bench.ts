import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { median } from '../../src/engine/math/median.ts';
import { bundle } from './bundle.ts';
import { DATA } from './field.ts';
import { CELL_M, HEIGHT_M, MODEL, NEAR, POINTS, WIDTH_M, writeKrigingPoints } from './kriging-field.ts';
import { load } from './machine.ts';
import { type Contestant, race, type Standing } from './race.ts';
import { markdown, raceTable, stepTable } from './tables.ts';
import { timedProcess } from './timed-process.ts';

/** bu/ac. Both solve the same equations: points were seen to part by 3e-13, blocks (whose quadrature has other digits) by 2e-7; one other neighbour moves a cell by far more. */
const CLOSE = 1e-6;

const R = 'Rscript';

const KINDS = [
  { kind: 'points', to: 'the middles of 100,000 cells' },
  { kind: 'blocks', to: `100,000 blocks of ${CELL_M} m` },
] as const;

/** R's and gstat's own words for their versions, null when one is not installed. */
function gstatVersion(): string | null {
  try {
    const ask = 'cat(R.version.string, "with gstat", format(packageVersion("gstat")))';
    return execFileSync(R, ['-e', ask], { stdio: ['ignore', 'pipe', 'ignore'] }).toString();
  } catch {
    return null;
  }
}

/** The same points, cells, model and neighbourhoods kriged by us and by R's gstat, whole processes in turn. */
export async function benchKriging(programs: string): Promise<void> {
  const gstat = gstatVersion();
  if (!gstat) {
    console.log('Kriging is compared with nothing: R or its package gstat is missing.');
    console.log('On Debian: apt-get install r-cran-gstat, then run again.\n');
  }
  const points = writeKrigingPoints();
  const program = await bundle('kriging', programs);
  for (const each of KINDS) await raceOf(each, program, points, gstat);
  const figures = await bundle('cell-figures', programs);
  const run = () => timedProcess(process.execPath, [figures]);
  console.log('### A million points to means and medians of 5 m cells (no reference)\n');
  console.log(stepTable(await race([{ name: 'Eachacre', run }])));
}

async function raceOf(
  { kind, to }: (typeof KINDS)[number],
  program: string,
  points: string,
  gstat: string | null,
): Promise<void> {
  const out = (who: string) => join(DATA, `kriging-${kind}-${who}.surface`);
  const rule = [POINTS, WIDTH_M, HEIGHT_M, CELL_M, MODEL.nugget, MODEL.psill, MODEL.range_m];
  const numbers = [...rule, NEAR.radius_m, NEAR.most, NEAR.least].map(String);
  const script = join(import.meta.dirname, 'kriging.R');
  const contestants: Contestant[] = [
    {
      name: 'Eachacre',
      run: () => timedProcess(process.execPath, [program, kind, points, out('ours')]),
    },
    { name: 'gstat', run: () => timedProcess(R, [script, kind, points, out('gstat'), ...numbers]) },
  ];
  const before = load();
  const standings = await race(gstat ? contestants : contestants.slice(0, 1));
  console.log(`### 20,000 points kriged to ${to}; ${gstat ?? 'no reference'}\n`);
  console.log(`Load of the machine ${before.toFixed(2)} before, ${load().toFixed(2)} after.\n`);
  console.log(raceTable(standings.slice(0, 1), standings.slice(1)));
  for (const standing of standings) console.log(stepTable([standing]));
  if (!gstat) return;
  const [ours, theirs] = standings.map(kriging_ms);
  console.log(`The kriging alone: ${(theirs / ours).toFixed(2)} times ours.\n`);
  compare(doubles(out('ours')), doubles(out('gstat')));
}

function kriging_ms({ runs }: Standing): number {
  return median(runs.map(({ output }) => (JSON.parse(output) as { steps: { krige: number } }).steps.krige));
}

function compare(ours: Float64Array, theirs: Float64Array): void {
  const cells = ours.length / 2;
  const largest = (from: number, to: number) => {
    let most = 0;
    // NaN is a difference too, unless both say it.
    for (let k = from; k < to; k++) {
      const both = Number.isNaN(ours[k]) && Number.isNaN(theirs[k]);
      const apart = Math.abs(ours[k] - theirs[k]);
      if (!both && !(apart <= most)) most = Number.isNaN(apart) ? Infinity : apart;
    }
    return most;
  };
  const known = ours.subarray(0, cells).reduce((sum, value) => sum + (Number.isNaN(value) ? 0 : 1), 0);
  const [estimate, error] = [largest(0, cells), largest(cells, 2 * cells)];
  const heads = ['cells', 'known', 'largest difference of estimates, bu/ac', 'of standard errors'];
  console.log(
    markdown(heads, [[String(cells), String(known), ...[estimate, error].map((d) => d.toExponential(1))]]),
  );
  if (ours.length !== theirs.length || !(estimate < CLOSE && error < CLOSE)) {
    console.log('The surfaces differ: the times above do not compare like with like.\n');
    process.exitCode = 1;
  }
}

function doubles(path: string): Float64Array {
  return new Float64Array(new Uint8Array(readFileSync(path)).buffer);
}
