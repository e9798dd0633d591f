import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { errors } from './against-truth.ts';
import { agreement, fromNorth, fromSouth } from './agreement.ts';
import { bundle } from './bundle.ts';
import { DATA } from './field.ts';
import { benchFit } from './fit-bench.ts';
import { CHAINS, gdalVersion } from './gdal.ts';
import { benchKriging } from './kriging-bench.ts';
import { load, machine } from './machine.ts';
import { benchOverlay } from './overlay-bench.ts';
import { type Contestant, race } from './race.ts';
import { benchRates } from './rates-bench.ts';
import { agreementTable, foundTable, raceTable, sampleTable, stepTable, truthTable } from './tables.ts';
import { timedProcess } from './timed-process.ts';
import { CSV_FILE, SHP_FILE, writeYieldFiles } from './write-yield-files.ts';
import { DELAY_S } from './yield-points.ts';

interface Input {
  readonly name: string;
  readonly column: string;
  /** What GDAL opens, and what we are handed. */
  readonly file: string;
  readonly members: readonly string[];
}

const INPUTS: readonly Input[] = [
  { name: 'CSV', column: 'yield', file: CSV_FILE, members: [CSV_FILE] },
  {
    name: 'shapefile',
    column: 'YIELD',
    file: SHP_FILE,
    members: ['shp', 'shx', 'dbf', 'prj'].map((extension) => join(DATA, `yield.${extension}`)),
  },
];
/** Only the first is what GDAL is asked for; the last is what a run does with a yield map, and GDAL does not. */
const METHODS = [
  { name: 'inverse distance', id: 'inverse-distance', program: 'ours' },
  { name: 'cell means, gaps filled', id: 'cell-means', program: 'ours' },
  { name: 'cleaned, cell means, gaps filled', id: 'cleaned', program: 'cleaned' },
];

/** Cell centres agree to 0.8 mm on the ground, which moves most cells by less than this, bu/ac; another method or another place moves them by far more. */
const CLOSE = 1e-3;

await bench();

async function bench(): Promise<void> {
  const gdal = gdalVersion();
  console.log(`${machine()}; ${gdal ?? 'GDAL is missing'}\n`);
  if (!gdal)
    console.log('Nothing is compared without GDAL. On Debian: apt-get install gdal-bin, then run again.\n');
  writeYieldFiles();
  const programs = mkdtempSync(join(tmpdir(), 'eachacre-bench-'));
  try {
    for (const program of ['ours', 'cleaned']) await bundle(program, programs);
    for (const input of INPUTS) await raceOn(input, programs, gdal !== null);
    await benchKriging(programs);
    await benchOverlay(programs);
    await benchFit(programs);
    await benchRates();
    const sample = await bundle('sample-run', programs);
    const fields = join(import.meta.dirname, '../../sample-fields');
    const run = () => timedProcess(process.execPath, [sample, fields]);
    console.log(sampleTable(await race([{ name: 'sample', run }])));
  } finally {
    rmSync(programs, { recursive: true, force: true });
  }
}

async function raceOn(input: Input, programs: string, againstGdal: boolean): Promise<void> {
  const out = (id: string) => join(DATA, `${input.name}-${id}.surface`);
  const run = (program: string, id: string, to: string) => {
    const path = join(programs, program, `${program}.js`);
    return timedProcess(process.execPath, [path, id, out(to), input.column, ...input.members]);
  };
  const ours = METHODS.map(
    ({ name, id, program }): Contestant => ({ name: `Eachacre, ${name}`, run: () => run(program, id, id) }),
  );
  const chains = (againstGdal ? CHAINS : []).map(
    (chain): Contestant => ({
      name: `GDAL, ${chain.name}`,
      run: () => chain.run(input.file, input.column, out('gdal')),
    }),
  );
  const before = load();
  const standings = await race([...ours, ...chains]);
  const own = standings.slice(0, ours.length);
  console.log(`### A million points from ${input.name} to a surface of 5 m cells\n`);
  console.log(`Load of the machine ${before.toFixed(2)} before, ${load().toFixed(2)} after.\n`);
  console.log(raceTable(own, standings.slice(ours.length)));
  console.log(stepTable(own));
  const cleaned = own[own.length - 1];
  await run('cleaned', 'stage', 'stage');
  if (!readFileSync(out('stage')).equals(readFileSync(out('cleaned')))) {
    console.log('A run makes another surface than the steps timed here.\n');
    process.exitCode = 1;
  }
  console.log(foundTable(JSON.parse(cleaned.runs[0].output), { delay_s: DELAY_S }));
  const surfaces = [
    ...METHODS.map(({ name, id }) => ({ name: `Eachacre, ${name}`, cells: fromSouth(out(id)) })),
    ...(againstGdal ? [{ name: 'GDAL, inverse distance', cells: fromNorth(out('gdal')) }] : []),
  ];
  console.log(truthTable(surfaces.map(({ name, cells }) => ({ name, ...errors(cells) }))));
  if (!againstGdal) return;
  const found = agreement(out(METHODS[0].id), out('gdal'));
  console.log(agreementTable(found));
  if (found.oneAlone > 0 || !(found.median < CLOSE)) {
    console.log('The surfaces differ: the times above do not compare like with like.\n');
    process.exitCode = 1;
  }
}
