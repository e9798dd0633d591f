import { describe, expect, it } from 'vitest';
import type { TrialTable } from '../../src/engine/lineup/trial-table.ts';
import { random } from '../../src/engine/math/random.ts';
import { fitEvidence } from '../../src/jobs/fit-evidence.ts';
import { fitTrials } from '../../src/jobs/fit-lineup.ts';
import { keptEvidence } from '../../src/jobs/kept-evidence.ts';

/** Five products at six sites, five stands; of the first one plot is far off. */
function trials(): TrialTable {
  const { normal } = random(4);
  const rows: { product: number; site: number; stand: number; y: number }[] = [];
  for (let product = 0; product < 5; product++)
    for (let site = 0; site < 6; site++)
      for (const k of [22, 27, 32, 37, 42]) {
        const far = product === 0 && site === 2 && k === 42 ? 60 : 0;
        rows.push({
          ...{ product, site, stand: 1000 * k },
          y: 190 + 8 * site - 0.15 * (k - 32 - product / 2) ** 2 + 2 * normal() + far,
        });
      }
  return {
    products: Array.from({ length: 5 }, (_, k) => ({ name: `P${k}`, crop: 'corn' })),
    sites: Array.from({ length: 6 }, (_, k) => ({
      ...{ name: `Site ${k}`, year: 2026, environment_buPerAc: 190 + 8 * k },
    })),
    product: Uint32Array.from(rows, (row) => row.product),
    site: Uint32Array.from(rows, (row) => row.site),
    stand_plantsPerAc: Float64Array.from(rows, (row) => row.stand),
    yield_buPerAc: Float64Array.from(rows, (row) => Number(row.y.toFixed(2))),
    block: new Uint32Array(rows.length),
  };
}

describe('what a curve of a lineup rests on', () => {
  const table = trials();
  const { lineup, fits } = fitTrials({ table, lineup: null }, { name: 'Made' });

  it('is told by the plots the lineup keeps as it was by the trials it was fitted from', () => {
    const fitted = fitEvidence(table, fits[0].fitted, { bootstrap: false });
    for (const own of fitted) {
      const kept = keptEvidence(lineup, own.product)!;
      expect(kept.said).toEqual(own.said);
      expect(kept.plots.residual_buPerAc.length).toBe(30);
      kept.plots.residual_buPerAc.forEach((residual, k) => {
        // Environments of the lineup are kept to a tenth of a bushel.
        expect(Math.abs(residual - own.plots.residual_buPerAc[k])).toBeLessThan(0.06);
      });
    }
    expect(fitted[0].said.join(' ')).toMatch(/^Without the plot of 42\.0k at Site 2 2026/);
  });

  it('is not told without a curve, or without plots', () => {
    const [first, ...others] = lineup.products;
    const of = (change: Partial<typeof first>) =>
      keptEvidence({ ...lineup, products: [{ ...first, ...change }, ...others] }, 0);
    expect(of({ response: null })).toBeNull();
    expect(of({ plots: null })).toBeNull();
    expect(of({})).not.toBeNull();
  });
});
