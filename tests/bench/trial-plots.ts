import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { random } from '../../src/engine/math/random.ts';
import { DATA } from './field.ts';

const PRODUCTS = 847;
const SITES = 107;
const SITES_EACH = 12;
const STANDS_K = [20, 26, 32, 38, 44];
export const TRIALS_FILE = join(DATA, 'trials.csv');

/** Trials of 847 made products over 107 sites, each at twelve of them and five stands: best stands about 30 thousand, rising with the ground; the error of a plot 6 bu/ac, of a product at a site 3. */
export function writeTrials(): void {
  const { normal, uniform, integer } = random(847);
  const environment = Array.from({ length: SITES }, () => Math.round(1200 + 1300 * uniform()) / 10);
  const lines = ['product,crop,site,year,environment_bu_ac,stand_plants_ac,yield_bu_ac'];
  for (let product = 1; product <= PRODUCTS; product++) {
    const best = 30 + 2.4 * normal();
    const top = 4 * normal();
    const sites = new Set<number>();
    while (sites.size < SITES_EACH) sites.add(integer(SITES));
    for (const site of sites) {
      const off = 3 * normal();
      for (const aimed of STANDS_K) {
        const p = aimed + 0.3 * normal();
        const e = environment[site];
        const y = e + top - 0.15 * (p - best - 0.02 * (e - 190)) ** 2 + off + 6 * normal();
        lines.push(`product ${product},corn,site ${site},2026,${e},${Math.round(1000 * p)},${y.toFixed(1)}`);
      }
    }
  }
  writeFileSync(TRIALS_FILE, `${lines.join('\n')}\n`);
}
