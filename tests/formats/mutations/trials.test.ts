import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/engine/issue.ts';
import { random } from '../../../src/engine/math/random.ts';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { readTrials } from '../../../src/formats/trials/read-trials.ts';
import { textFile } from '../small-files.ts';
import { damaged, inherited, LONGEST_MS } from './damage.ts';
import { RUNS } from './expect-honest.ts';

const plots = (row: (k: number) => string) => Array.from({ length: 10 }, (_, k) => row(k)).join('\n');
const SEEDS: readonly FileBytes[] = [
  textFile(
    `product,crop,site,year,rep,stand (plants/ac),yield (bu/ac),moisture\n${plots((k) => `Wren ${k % 3},corn,Fen End,202${k % 4},${k},${24000 + 1000 * k},17${k}.5,15.${k}`)}\n`,
    'a.csv',
  ),
  textFile(
    `Versuch; erfunden\n\nSorte;Standort;Jahr;Pflanzen/m²;Ertrag\n;;;;dt/ha\n${plots((k) => `Zaunkönig ${k};Au;2024;${7 + k},5;9${k},2`)}\n`,
    'mais.csv',
  ),
  textFile(
    `hybrid\tloc\tseeding rate\temergence %\twet yield\tmoisture\n${plots((k) => `"Teal ""${k}"""\tA\t"3${k},000"\t9${k}\t18${k}\t2${k}`)}\r\n`,
    'corn.txt',
  ),
  textFile(
    JSON.stringify(
      Array.from({ length: 10 }, (_, k) => ({
        entry: `Owl ${k}`,
        env: `E${k % 2}`,
        stand: 100 + 10 * k,
        yield: 50 + k,
        note: null,
      })),
    ),
    'soybeans.json',
  ),
  textFile(
    `Invented trial,,,,\nHybrid,Site,Rep,Yield at 24k,Yield at 32k\n${plots((k) => `${k % 5 === 0 ? `Rook ${k}` : ''},${k % 5 === 0 ? 'Au' : ''},R${k},17${k}${k % 3 ? '' : '*'},19${k} ab`)}\nMean,,,175,195\n`,
    'corn wide.csv',
  ),
  textFile(
    `Site,Stand per m row,Row width (cm),Heron,Owl 2,Wren\n${plots((k) => `A${k % 2},${5 + (k % 3)},75,9.${k},${k === 4 ? 'hail' : 9.1},8.${k}`)}\n`,
    'corn across.csv',
  ),
];

/** What breaks the promises of a reading: nothing but a Refusal thrown, an account that closes, a table whose plots are whole, issues that say something. */
function faultsOf(file: FileBytes, seen = { withPlots: 0 }): string[] {
  const faults: string[] = [];
  const started = performance.now();
  try {
    const { table, ledger, issues, readings, questions } = readTrials(file);
    const parts = [ledger.used, ledger.repaired, ...Object.values(ledger.setAside)];
    if (parts.reduce((sum, n) => sum + n, 0) !== ledger.read || parts.some((n) => !(n >= 0)))
      faults.push(`ledger ${JSON.stringify(ledger)}`);
    const n = table.yield_buPerAc.length;
    if (n > 0) seen.withPlots++;
    if (ledger.used !== n) faults.push(`${n} plots, ${ledger.used} used`);
    for (const own of [table.product, table.site, table.stand_plantsPerAc, table.block])
      if (own.length !== n) faults.push(`${own.length} for ${n} plots`);
    if (!table.product.every((own) => own < table.products.length)) faults.push('a product that is none');
    if (!table.site.every((own) => own < table.sites.length)) faults.push('a site that is none');
    if (!table.yield_buPerAc.every((own) => own >= 0 && own <= 1000)) faults.push('a yield that is none');
    if (!table.stand_plantsPerAc.every((own) => Number.isNaN(own) || (own > 0 && Number.isFinite(own))))
      faults.push('a stand that is none');
    if (!table.products.every(({ name, crop }) => name !== '' && crop !== ''))
      faults.push('a product without a name');
    if (!table.sites.every((own) => Number.isNaN(own.environment_buPerAc) || own.environment_buPerAc > 0))
      faults.push('an environment that is none');
    for (const issue of issues)
      if (Object.values(issue).some((words) => typeof words !== 'string' || words === ''))
        faults.push(`${issue.code} is mute`);
    if (!readings.every(({ confidence }) => confidence > 0 && confidence <= 1))
      faults.push('a confidence that is none');
    if (!questions.every(({ options, proposed }) => options[proposed] !== undefined))
      faults.push('nothing proposed');
  } catch (thrown) {
    if (!(thrown instanceof Refusal))
      faults.push(`threw ${thrown instanceof Error ? thrown.stack : String(thrown)}`);
    else if (Object.values(thrown.issue).includes('')) faults.push(`${thrown.issue.code} is mute`);
  }
  const took = performance.now() - started;
  if (took > LONGEST_MS) faults.push(`took ${took.toFixed(0)} ms`);
  return faults;
}

describe('a trial table', () => {
  it('is sound before it is damaged', () => {
    for (const seed of SEEDS) {
      expect(faultsOf(seed)).toEqual([]);
      expect(readTrials(seed).ledger.used).toBeGreaterThan(8);
    }
  });

  it(`is read or refused when damaged (${RUNS.toLocaleString('en-US')} times), and its account closes`, () => {
    const before = inherited();
    const wrong: string[] = [];
    const seen = { withPlots: 0 };
    for (let run = 0; run < RUNS && wrong.length < 10; run++) {
      const [file] = damaged([SEEDS[run % SEEDS.length]], random(run));
      const faults = faultsOf(file, seen);
      wrong.push(...faults.map((fault) => `run ${run}: ${fault}`));
    }
    expect(wrong).toEqual([]);
    // Damage that nothing survives would prove little.
    expect(seen.withPlots).toBeGreaterThan(RUNS / 4);
    expect(inherited()).toBe(before);
  }, 120_000);

  it('is read or refused when cut at any byte', () => {
    const wrong = SEEDS.flatMap((seed) =>
      Array.from({ length: seed.bytes.length }, (_, n) =>
        faultsOf({ ...seed, bytes: seed.bytes.subarray(0, n) }).map(
          (fault) => `${seed.name} at ${n}: ${fault}`,
        ),
      ).flat(),
    );
    expect(wrong).toEqual([]);
  }, 120_000);
});
