import { expect, it } from 'vitest';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { cutEverywhere, damage, inherited } from './damage.ts';

export const RUNS = 20_000;

/** A reader reads or refuses whatever comes: it throws nothing else, closes its accounts, answers in time and leaves nothing behind. */
export function readsOrRefuses(seeds: readonly (readonly FileBytes[])[]): void {
  it(`is read or refused when damaged (${RUNS.toLocaleString('en-US')} times), and its account closes`, async () => {
    const before = inherited();
    expect(await damage(seeds, RUNS)).toEqual([]);
    expect(inherited()).toBe(before);
  }, 120_000);

  it('is read or refused when cut at any byte', async () => {
    expect(await cutEverywhere(seeds)).toEqual([]);
  }, 120_000);
}
