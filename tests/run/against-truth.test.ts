import { describe, expect, it } from 'vitest';
import { DESIGNS } from '../bench/truth/truth-designs.ts';
import { scoresOf, truthRow } from '../bench/truth/truth-table.ts';

// A few of the fields of docs/truth.md; the figures there are of 200 of each kind. Seeded, so that the same is found on any machine; the bounds leave room for another order of draws, not for another quality.
describe('plans of made fields whose truth is known', () => {
  it('capture most of what there is to gain where products were tried at many sites, and know how sure that is', async () => {
    const row = truthRow(await scoresOf(DESIGNS[0].of, 5000, 16));
    expect(row.real).toBeGreaterThan(3);
    expect(row.captured).toBeGreaterThan(0.8);
    // 90 % are to be held: 13 or more of 16 are in 93 of 100 such sixteens.
    expect(row.held).toBeGreaterThanOrEqual(13 / 16);
  });

  it('say that flat is as good where products are alike, and claim next to nothing', async () => {
    const row = truthRow(await scoresOf(DESIGNS[5].of, 5000, 16));
    expect(row.nothing).toBe(16);
    expect(row.saidFlat).toBe(1);
    expect(row.claimed).toBeLessThan(0.5);
    expect(row.held).toBeGreaterThanOrEqual(13 / 16);
  });
});
