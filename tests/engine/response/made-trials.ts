import { random } from '../../../src/engine/math/random.ts';
import { yieldAt } from '../../../src/engine/response/curve.ts';
import type { FamilyId } from '../../../src/engine/response/family.ts';
import { curveAway } from '../../../src/engine/response/fit/figures.ts';
import type { Plots } from '../../../src/engine/response/plots.ts';

export interface MadeTrial {
  readonly seed: number;
  readonly sites: number;
  readonly stands_k?: readonly number[];
  readonly siteSd?: number;
  readonly plotSd?: number;
}

export const REFERENCE = 200;

/** Two plots a stand at every site, what stands within 2 % of what was aimed at, ground of 150 to 250 bu/ac: the curve of these five figures, a chance of the site, a chance of the plot. */
export function madeTrial(
  family: FamilyId,
  figures: readonly number[],
  { seed, sites, stands_k = [20, 24, 28, 32, 36, 40], siteSd = 3, plotSd = 6 }: MadeTrial,
): Plots {
  const { uniform, normal } = random(seed);
  const rows: { p: number; y: number; site: number; e: number }[] = [];
  for (let site = 0; site < sites; site++) {
    const away = -50 + 100 * uniform();
    const off = siteSd * normal();
    for (const aimed of stands_k)
      for (let plot = 0; plot < 2; plot++) {
        const p = aimed * (1 + 0.02 * normal());
        const y = yieldAt(curveAway(family, figures, away), p) + off + plotSd * normal();
        rows.push({ p, y, site, e: REFERENCE + away });
      }
  }
  return {
    stand_k: Float64Array.from(rows, (row) => row.p),
    yield_buPerAc: Float64Array.from(rows, (row) => row.y),
    site: Uint32Array.from(rows, (row) => row.site),
    environment_buPerAc: Float64Array.from(rows, (row) => row.e),
  };
}
