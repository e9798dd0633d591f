import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/engine/issue.ts';
import { random } from '../../../src/engine/math/random.ts';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { readLineupCsv } from '../../../src/formats/lineup/read-lineup-csv.ts';
import { lineupTemplate } from '../../../src/formats/lineup/template-lineup.ts';
import { readLineup } from '../../../src/plan/validate.ts';
import { textFile } from '../small-files.ts';
import { damaged, inherited, LONGEST_MS } from './damage.ts';
import { RUNS } from './expect-honest.ts';

const SEEDS: readonly FileBytes[] = [
  textFile(lineupTemplate(), 'lineup.csv'),
  textFile(
    `Sorte;Fruchtart;Reifezahl;Körner je Einheit;Preis;Standfestigkeit\nSkala;;;;;"1 bis 9, 9 best"\n${Array.from({ length: 6 }, (_, k) => `Zaunkönig ${k};corn;2${k}0;50.000;1${k}5,50;${k + 1},5`).join('\n')}\n`,
    'sorten.csv',
  ),
  textFile(
    `hybrid\tcrop\tseeds/bag\tcost\ttreatments\ttraits\tnotes\tvigour\nscale\t\t\t\t\t\t\tvigour: 0 to 5, lowest is best\n${Array.from({ length: 6 }, (_, k) => `Teal ${k}\tcorn\t80k\t$2${k}0\tCoat = ${k} (blight); Reed = 3\tFen = 5 % blended (label)\t"a ""${k}"", b"\tNR`).join('\r\n')}\r\n`,
    'hybrids.txt',
  ),
];

/** What breaks the promises of a reading: nothing but a Refusal thrown, an account that closes, products a lineup document takes, issues that say something. */
function faultsOf(file: FileBytes, seen = { withProducts: 0 }): string[] {
  const faults: string[] = [];
  const started = performance.now();
  try {
    const { products, scales, issues, ledger } = readLineupCsv(file);
    if (products.length > 0) seen.withProducts++;
    const parts = [ledger.used, ...Object.values(ledger.setAside)];
    if (parts.reduce((sum, n) => sum + n, 0) !== ledger.read || ledger.used !== products.length)
      faults.push(`ledger ${JSON.stringify(ledger)}`);
    const document = { document: 'eachacre-lineup', version: 1, name: 'Invented', scales, products };
    faults.push(
      ...readLineup(document, 'lineup').issues.map((issue) => `${issue.code} ${issue.where} ${issue.found}`),
    );
    for (const issue of issues)
      if (Object.values(issue).some((words) => typeof words !== 'string' || words === ''))
        faults.push(`${issue.code} is mute`);
  } catch (thrown) {
    if (!(thrown instanceof Refusal))
      faults.push(`threw ${thrown instanceof Error ? thrown.stack : String(thrown)}`);
    else if (Object.values(thrown.issue).includes('')) faults.push(`${thrown.issue.code} is mute`);
  }
  const took = performance.now() - started;
  if (took > LONGEST_MS) faults.push(`took ${took.toFixed(0)} ms`);
  return faults;
}

describe('a lineup as a table', () => {
  it('is sound before it is damaged', () => {
    for (const seed of SEEDS) {
      expect(faultsOf(seed)).toEqual([]);
      expect(readLineupCsv(seed).issues).toEqual([]);
      expect(readLineupCsv(seed).products.length).toBeGreaterThan(1);
    }
  });

  it(`is read or refused when damaged (${RUNS.toLocaleString('en-US')} times), and its account closes`, () => {
    const before = inherited();
    const wrong: string[] = [];
    const seen = { withProducts: 0 };
    for (let run = 0; run < RUNS && wrong.length < 10; run++) {
      const [file] = damaged([SEEDS[run % SEEDS.length]], random(run));
      wrong.push(...faultsOf(file, seen).map((fault) => `run ${run}: ${fault}`));
    }
    expect(wrong).toEqual([]);
    // Damage that nothing survives would prove little.
    expect(seen.withProducts).toBeGreaterThan(RUNS / 4);
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
