import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/engine/issue.ts';
import { random } from '../../../src/engine/math/random.ts';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { readWeather } from '../../../src/formats/weather/read-weather.ts';
import { weatherDegreeDays } from '../../../src/formats/weather/weather-degree-days.ts';
import { textFile } from '../small-files.ts';
import { damaged, inherited, LONGEST_MS } from './damage.ts';
import { RUNS } from './expect-honest.ts';

const rows = (row: (k: number) => string, count = 12) =>
  Array.from({ length: count }, (_, k) => row(k)).join('\n');
const SEEDS: readonly FileBytes[] = [
  textFile(
    `date,Tmax (°F),Tmin (°F)\n${rows((k) => `202${k % 3}-0${1 + (k % 9)}-1${k % 9},${40 + 4 * k}.5,${20 + 3 * k}`)}\n`,
    'a.csv',
  ),
  textFile(
    `Datum;TX;TN\n;°C;°C\n${rows((k) => `1${k % 9}.0${1 + (k % 9)}.2024;${10 + k},5;-${k},2`)}\n`,
    'b.csv',
  ),
  textFile(
    `Month\tMean max\tMean min\n${rows((k) => `${k + 1}\t${85 - 6 * Math.abs(k - 6)}\t${60 - 5 * Math.abs(k - 6)}`)}\r\n`,
    'normals.txt',
  ),
  textFile(
    `STATION,YEAR,DOY,TMAX,TMIN\n${rows((k) => `X,2023,${150 + 3 * k},2${k % 9}${k % 7},1${k % 6}5`)}\n`,
    'c.csv',
  ),
];

/** What breaks the promises of a reading: nothing but a Refusal thrown, an account that closes, temperatures that can be, issues that say something. */
function faultsOf(file: FileBytes, seen = { withDays: 0 }): string[] {
  const faults: string[] = [];
  const started = performance.now();
  try {
    const read = readWeather(file);
    const { ledger, issues, years, by } = read;
    const parts = [ledger.used, ledger.repaired, ...Object.values(ledger.setAside)];
    if (parts.reduce((sum, n) => sum + n, 0) !== ledger.read || parts.some((n) => !(n >= 0)))
      faults.push(`ledger ${JSON.stringify(ledger)}`);
    let known = 0;
    for (const { highest_f, lowest_f } of years) {
      if (highest_f.length !== (by === 'day' ? 365 : 12)) faults.push(`${highest_f.length} by ${by}`);
      for (const [k, high] of highest_f.entries()) {
        if (Number.isNaN(high) !== Number.isNaN(lowest_f[k])) faults.push('half a day');
        if (Number.isNaN(high)) continue;
        known++;
        if (!(high <= 135 && lowest_f[k] >= -129 && lowest_f[k] <= high))
          faults.push(`${high}, ${lowest_f[k]}`);
      }
    }
    if (known !== ledger.used) faults.push(`${known} days, ${ledger.used} used`);
    if (known > 0) seen.withDays++;
    const { degreeDays } = weatherDegreeDays(read);
    if (!degreeDays.daily.every((day) => Number.isNaN(day) || (day >= 0 && day <= 36)))
      faults.push('degree days there are not');
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

describe('a record of temperatures', () => {
  it('is sound before it is damaged', () => {
    for (const seed of SEEDS) {
      expect(faultsOf(seed)).toEqual([]);
      expect(readWeather(seed).ledger.used).toBeGreaterThan(8);
    }
  });

  it(`is read or refused when damaged (${RUNS.toLocaleString('en-US')} times), and its account closes`, () => {
    const before = inherited();
    const wrong: string[] = [];
    const seen = { withDays: 0 };
    for (let run = 0; run < RUNS && wrong.length < 10; run++) {
      const [file] = damaged([SEEDS[run % SEEDS.length]], random(run));
      wrong.push(...faultsOf(file, seen).map((fault) => `run ${run}: ${fault}`));
    }
    expect(wrong).toEqual([]);
    // Damage that nothing survives would prove little.
    expect(seen.withDays).toBeGreaterThan(RUNS / 4);
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
