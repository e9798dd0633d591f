import { median } from '../../src/engine/math/median.ts';
import { bundle } from './bundle.ts';
import { load } from './machine.ts';
import { writeOverlayField } from './overlay-field.ts';
import { type Contestant, race, type Standing } from './race.ts';
import { markdown, raceTable, stepTable } from './tables.ts';
import { type Timed, timedProcess } from './timed-process.ts';

/** Both areas are sums of the same 6,000 or so pieces; rounding to our grid moves them by less than this of the whole. */
const CLOSE = 1e-9;

/** 3,000 parcels over 300 soils, areas of all intersections, by us and by GEOS compiled to WebAssembly, whole processes in turn. */
export async function benchOverlay(programs: string): Promise<void> {
  const rings = writeOverlayField();
  const ours = await bundle('overlay', programs);
  const theirs = await bundle('overlay-geos', programs);
  const geos = (way: string) => timedProcess(process.execPath, [theirs, way, rings]);
  const contestants: Contestant[] = [
    { name: 'Eachacre', run: () => timedProcess(process.execPath, [ours, rings]) },
    { name: 'GEOS, every pair', run: () => geos('plain') },
    { name: 'GEOS, prepared soils first', run: () => geos('prepared') },
  ];
  const before = load();
  const standings = await race(contestants);
  console.log(
    '### 3,000 parcels over 300 soils: the areas of all intersections; GEOS 3.13.0 by geos-wasm 3.1.1\n',
  );
  console.log(`Load of the machine ${before.toFixed(2)} before, ${load().toFixed(2)} after.\n`);
  console.log(raceTable(standings.slice(0, 1), standings.slice(1)));
  for (const standing of standings) console.log(stepTable([standing]));
  // On a busy machine wall times tell of the others; this is what each process itself took.
  const cpu = standings.map(({ runs }) => median(runs.map((run) => told(run).cpu_ms)));
  console.log(
    markdown(
      ['median ms of processor time', ...standings.map(({ name }) => name)],
      [['whole process', ...cpu.map((ms) => ms.toFixed(0))]],
    ),
  );
  const [own, ...others] = standings.map(totalOf);
  const apart = others.map((total) => Math.abs(own / total - 1));
  console.log(
    `Total ${own.toFixed(3)} m², ${apart.map((d) => d.toExponential(1)).join(' and ')} of it apart.\n`,
  );
  if (!apart.every((d) => d < CLOSE)) {
    console.log('The areas differ: the times above do not compare like with like.\n');
    process.exitCode = 1;
  }
}

function totalOf({ runs }: Standing): number {
  return told(runs[0]).total;
}

function told({ output }: Timed): { total: number; cpu_ms: number } {
  return JSON.parse(output);
}
