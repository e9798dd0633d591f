import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { buildCli, eachacre, freshFolder, SAMPLES, tree } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});
const call = (...args: string[]) => eachacre(args, { cwd });
const TRIALS = join(SAMPLES, 'trials.csv');

interface Evidence {
  readonly own_k: { readonly value: number; readonly low: number; readonly high: number } | null;
  readonly bootstrap_k: { readonly low: number; readonly high: number } | null;
  readonly pullingSites: readonly { name: string; cook: number; decides: boolean }[];
  readonly pullingPlots: readonly { name: string; cook: number; decides: boolean }[];
  readonly said: readonly string[];
  readonly plots: Readonly<Record<string, readonly (number | string | null)[]>>;
}
interface Fitted {
  readonly name: string;
  readonly fit: { readonly plots: number };
  readonly bestStand_k: { readonly low: number; readonly high: number };
  readonly evidence: Evidence;
}
const productsOf = (...args: string[]): Fitted[] => {
  const { code, out } = call('fit', TRIALS, '--out', 'l.json', '--force', '--json', ...args);
  expect(code).toBe(0);
  return JSON.parse(out).crops.flatMap(({ products }: { products: Fitted[] }) => products);
};

/** Four sites that bend at 31,000 and a fifth at which yield rises all the way. */
const stands = [20, 25, 30, 35, 40];
const even = ['Fen', 'Hill', 'Mill', 'Oak'].flatMap((site, j) =>
  stands.flatMap((p) =>
    [-0.7, 0.7].map(
      (off) => `Wren 98,corn,${site},2025,${p}000,${(182 + 5 * j - 0.2 * (p - 31) ** 2 + off).toFixed(2)}`,
    ),
  ),
);
const rising = stands.flatMap((p) =>
  [-0.7, 0.7].map((off) => `Wren 98,corn,Cedar,2023,${p}000,${(60 + 4 * p + off).toFixed(2)}`),
);
const table = (rows: readonly string[]) =>
  `product,crop,site,year,stand (plants/ac),yield (bu/ac)\n${rows.join('\n')}\n`;

describe('the evidence fit tells', () => {
  it('has a residual, a leverage and a distance for every plot of every product, and what pulls', () => {
    for (const { fit, evidence } of productsOf()) {
      for (const column of Object.values(evidence.plots)) expect(column).toHaveLength(fit.plots);
      const { yield_buPerAc, curve_buPerAc, residual_buPerAc } = evidence.plots;
      // All three are written to a hundredth.
      for (const [k, y] of yield_buPerAc.entries())
        expect(Math.abs(Number(y) - Number(curve_buPerAc[k]) - Number(residual_buPerAc[k]))).toBeLessThan(
          0.0151,
        );
      expect(evidence.pullingSites.length).toBeGreaterThan(1);
      expect(evidence.pullingPlots).toHaveLength(3);
      expect(evidence.bootstrap_k).toBeNull();
    }
  });

  it('draws sites again where asked to, the same every time, beside the other interval', () => {
    const once = productsOf('--bootstrap');
    expect(productsOf('--bootstrap')).toEqual(once);
    const drawn = once.filter(({ evidence }) => evidence.bootstrap_k !== null);
    expect(drawn.length).toBeGreaterThan(8);
    for (const { evidence } of drawn) {
      const { low, high } = evidence.bootstrap_k as { low: number; high: number };
      expect(low).toBeLessThan(evidence.own_k?.value ?? NaN);
      expect(high).toBeGreaterThan(evidence.own_k?.value ?? NaN);
    }
    expect(call('fit', TRIALS, '--out', 'w.json', '--bootstrap').out).toMatch(
      /^product +curve +bu\/ac +best stand +95 % interval +sites drawn again +sites +leaning$/m,
    );
    expect(call('fit', TRIALS, '--out', 'v.json').out).not.toContain('sites drawn again');
    // The lineup is the same with and without.
    const written = tree(cwd);
    expect(written.get('w.json')).toBe(written.get('v.json'));
  });

  it('says in one line which site decides the answer, and nothing where none does', () => {
    writeFileSync(join(cwd, 'even.csv'), table(even));
    expect(call('fit', 'even.csv', '--out', 'a.json').out).not.toContain('Without ');
    writeFileSync(join(cwd, 'odd.csv'), table([...even, ...rising]));
    const { out } = call('fit', 'odd.csv', '--out', 'b.json');
    const said = out.split('\n').filter((line) => line.includes('Without '));
    expect(said).toHaveLength(1);
    // Without the fifth the bend is the one it was made with.
    expect(said[0]).toMatch(
      /^Wren 98: Without Cedar 2023 its own plots would put the best stand at 31\.0k instead of (3[2-9]|4\d)\.\dk\.$/,
    );
  });
});
