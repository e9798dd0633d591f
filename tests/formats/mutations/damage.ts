import type { Source } from '../../../src/engine/layers/source.ts';
import { type Random, random } from '../../../src/engine/math/random.ts';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { readFiles } from '../../../src/formats/registry.ts';

/** A reader that takes longer over a small file hangs, as far as anybody can tell. */
export const LONGEST_MS = 2000;
/** Values that fool counts, offsets and lengths. */
const WORDS = [0, 1, -1, 2, 0x7fffffff, -0x80000000, 0xffff, 100, 2000, 1 << 24];
/** Pieces that fool readers of text. */
const PIECES = [
  '"',
  '\n',
  ',',
  ';',
  '1e999',
  'NaN',
  '-',
  '__proto__',
  '[',
  '}',
  '<',
  '&',
  '\\',
  '\0',
  '\ufeff',
  '9'.repeat(40),
];

type Change = (bytes: Uint8Array, place: number, dice: Random) => Uint8Array;

const CHANGES: readonly Change[] = [
  (bytes, place, dice) => withBytes(bytes, place, [dice.integer(256)]),
  (bytes, place, dice) => withBytes(bytes, place, [bytes[place] ^ (1 << dice.integer(8))]),
  (bytes, place, dice) => withWord(bytes, place, WORDS[dice.integer(WORDS.length)], true),
  (bytes, place, dice) => withWord(bytes, place, WORDS[dice.integer(WORDS.length)], false),
  (bytes, place) => bytes.subarray(0, place),
  (bytes, place) => joined(bytes.subarray(0, place), bytes.subarray(place >> 1)),
  (bytes, place, dice) => joined(bytes.subarray(0, place), bytes.subarray(place + 1 + dice.integer(40))),
  (bytes, place, dice) => {
    const piece = new TextEncoder().encode(PIECES[dice.integer(PIECES.length)]);
    return joined(bytes.subarray(0, place), piece, bytes.subarray(place));
  },
];

function joined(...parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

function withBytes(bytes: Uint8Array, place: number, values: readonly number[]): Uint8Array {
  const changed = bytes.slice();
  changed.set(values.slice(0, bytes.length - place), place);
  return changed;
}

function withWord(bytes: Uint8Array, place: number, word: number, little: boolean): Uint8Array {
  const four = new Uint8Array(4);
  new DataView(four.buffer).setInt32(0, word, little);
  return withBytes(bytes, place, [...four]);
}

/** One to three changes, each to one of the files. */
export function damaged(files: readonly FileBytes[], dice: Random): FileBytes[] {
  const changed = [...files];
  for (let n = 1 + dice.integer(3); n > 0; n--) {
    const k = dice.integer(changed.length);
    const { name, bytes } = changed[k];
    const place = dice.integer(Math.max(1, bytes.length));
    changed[k] = { name, bytes: CHANGES[dice.integer(CHANGES.length)](bytes, place, dice) };
  }
  return changed;
}

/** Reads the seeds damaged `runs` times in ways a number fixes for ever. What was wrong, each with its number: should be none. */
export async function damage(seeds: readonly (readonly FileBytes[])[], runs: number): Promise<string[]> {
  const wrong: string[] = [];
  for (const [k, seed] of seeds.entries()) await look(seed, `seed ${k}`, wrong);
  for (let run = 0; run < runs && wrong.length < 10; run++) {
    const dice = random(run);
    await look(damaged(seeds[run % seeds.length], dice), `run ${run}`, wrong);
  }
  return wrong;
}

/** Reads the seeds cut at every byte of every file. */
export async function cutEverywhere(seeds: readonly (readonly FileBytes[])[]): Promise<string[]> {
  const wrong: string[] = [];
  for (const [k, seed] of seeds.entries()) {
    for (const [index, file] of seed.entries()) {
      for (let n = 0; n < file.bytes.length && wrong.length < 10; n++) {
        const cut = { ...file, bytes: file.bytes.subarray(0, n) };
        await look(seed.with(index, cut), `seed ${k} › ${file.name} cut at ${n}`, wrong);
      }
    }
  }
  return wrong;
}

async function look(files: readonly FileBytes[], what: string, wrong: string[]): Promise<void> {
  const started = performance.now();
  try {
    const { sources, issues } = await readFiles(files);
    const faults = sources.flatMap(faultsOf);
    if (sources.length + issues.length === 0) faults.push('neither a layer nor a word');
    for (const issue of [...issues, ...sources.flatMap((source) => source.issues)]) {
      const mute = Object.entries(issue).filter(([, words]) => typeof words !== 'string' || words === '');
      if (mute.length > 0) faults.push(`${issue.code} without ${mute.map(([part]) => part).join(', ')}`);
    }
    wrong.push(...faults.map((fault) => `${what}: ${fault}`));
  } catch (thrown) {
    wrong.push(`${what}: threw ${thrown instanceof Error ? thrown.stack : String(thrown)}`);
  }
  const took = performance.now() - started;
  if (took > LONGEST_MS) wrong.push(`${what}: took ${took.toFixed(0)} ms`);
}

/** What breaks the promises of a source. */
function faultsOf({ ledger, records, x, y, rings, shape, raster, columns }: Source): string[] {
  const faults: string[] = [];
  const expect = (holds: boolean, fault: string) => {
    if (!holds) faults.push(fault);
  };
  const aside = Object.values(ledger.setAside);
  const parts = [ledger.used, ledger.repaired, ...aside];
  expect(
    parts.every((n) => Number.isInteger(n) && n >= 0),
    `ledger ${JSON.stringify(ledger)}`,
  );
  expect(
    parts.reduce((sum, n) => sum + n, 0) === ledger.read,
    `ledger does not close: ${JSON.stringify(ledger)}`,
  );
  expect(x.length === (shape === 'points' ? records : 0) && y.length === x.length, `${x.length} points`);
  expect(rings.length === (shape === 'polygons' ? records : 0), `${rings.length} records of rings`);
  expect(!raster || raster.width * raster.height === records, `${records} pixels`);
  expect(finiteOrNaN(x) && finiteOrNaN(y), 'an infinite coordinate');
  expect(
    rings.every(
      (own) => own === null || own.every((ring) => ring.length >= 6 && ring.every(Number.isFinite)),
    ),
    'a ring that is none',
  );
  for (const column of columns) {
    if (column.kind === 'number') {
      expect(column.values.length === records && finiteOrNaN(column.values), `column ${column.name}`);
    } else {
      const { codes, levels } = column;
      expect(codes.length === records, `${codes.length} codes in ${column.name}`);
      expect(
        codes.every((code) => code >= -1 && code < levels.length),
        `a code without a level in ${column.name}`,
      );
      expect(
        levels.every((level) => typeof level === 'string'),
        `a level of ${column.name}`,
      );
    }
  }
  expect(new Set(columns.map((column) => column.name)).size === columns.length, 'two columns of one name');
  return faults;
}

function finiteOrNaN(values: Float64Array): boolean {
  return values.every((value) => Number.isFinite(value) || Number.isNaN(value));
}

/** What every object inherits, to be looked at before and after. */
export function inherited(): string {
  return JSON.stringify([Object.prototype, Array.prototype].map((each) => Object.getOwnPropertyNames(each)));
}
