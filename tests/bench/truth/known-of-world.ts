import type { TrialTable } from '../../../src/engine/lineup/trial-table.ts';
import { random } from '../../../src/engine/math/random.ts';
import { fitTrials } from '../../../src/jobs/fit-lineup.ts';
import type { Lineup } from '../../../src/plan/lineup-schema.ts';
import type { Plan } from '../../../src/plan/schema.ts';
import type { Inputs } from '../../../src/run/run.ts';
import { box } from '../../engine/grid/shapes.ts';
import { plan } from '../../plan/small-plan.ts';
import { points, polygons } from '../../run/small-field.ts';
import { HALF, PLOT_SD, SITE_SD, STANDS_K, type TrueWorld, trueYield } from './true-world.ts';

export const GRAIN_PRICE = 4.4;
/** Metres between yield points. */
const APART = 12;
/** Spread of the error of a yield point, bu/ac. */
const POINT_SD = 12;

/** What a grower would hold of that world: trials with their errors, fitted, and yield maps with theirs. */
export function knownOf(world: TrueWorld): { readonly plan: Plan; readonly inputs: Inputs } {
  const years = world.harvests.map((_, k) => ({
    ...{ source: `year-${k}`, column: 'yield', unit: 'bu/ac' as const, crop: 'corn', year: 2020 + k },
  }));
  return {
    plan: plan({
      sources: ['boundary', 'lineup', ...years.map(({ source }) => source)].map((id, k) => ({
        ...{ id, file: `${id}.geojson`, sha256: k.toString(16).padStart(64, '0') },
      })),
      field: { boundary: 'boundary', heading_deg: 0, cell_m: 20 },
      evidence: { yields: years },
      lineup: { source: 'lineup' },
      money: { grainPrice_perBu: GRAIN_PRICE },
    }),
    inputs: {
      lineup: lineupOf(world),
      sources: new Map([
        ['boundary', polygons('boundary.geojson', [box(-HALF.x, -HALF.y, 2 * HALF.x, 2 * HALF.y)])],
        ...years.map(({ source }, k) => [source, harvest(world, k)] as const),
      ]),
    },
  };
}

function harvest({ seed, harvests }: TrueWorld, k: number) {
  const { normal } = random(seed * 31 + k + 7);
  const rows: [number, number, number][] = [];
  for (let x = -HALF.x + APART / 2; x < HALF.x; x += APART)
    for (let y = -HALF.y + APART / 2; y < HALF.y; y += APART)
      rows.push([x, y, Math.max(5, harvests[k](x, y) + POINT_SD * normal())]);
  return points(`year-${k}.csv`, rows);
}

function lineupOf(world: TrueWorld): Lineup {
  const { lineup } = fitTrials({ table: trialsOf(world), lineup: null }, { name: 'Made products' });
  const prices = new Map(world.truth.map(({ name, pricePerUnit }) => [name, pricePerUnit]));
  return {
    ...lineup,
    products: lineup.products.map((own) => ({
      ...own,
      seedsPerUnit: 80_000,
      pricePerUnit: prices.get(own.name) ?? null,
    })),
  };
}

/** Every product at most of the sites, five stands in blocks; a product departs from its curve from site to site. */
function trialsOf({ seed, truth, sites, blocks }: TrueWorld): TrialTable {
  const { normal, uniform } = random(seed * 17 + 3);
  const environments = Array.from({ length: sites }, () => 130 + 120 * uniform());
  const rows: { product: number; site: number; block: number; stand: number; y: number }[] = [];
  for (const [product, own] of truth.entries())
    for (const [site, environment] of environments.entries()) {
      if (uniform() < 0.25 && site > 1) continue;
      const departs = SITE_SD * normal();
      for (let block = 0; block < blocks; block++)
        for (const k of STANDS_K)
          rows.push({
            ...{ product, site, block, stand: 1000 * k },
            y: trueYield(own, environment, k) + departs + PLOT_SD * normal(),
          });
    }
  return {
    products: truth.map(({ name }) => ({ name, crop: 'corn' })),
    sites: environments.map((environment_buPerAc, k) => ({
      ...{ name: `Site ${k + 1}`, year: 2026, environment_buPerAc },
    })),
    product: Uint32Array.from(rows, (row) => row.product),
    site: Uint32Array.from(rows, (row) => row.site),
    stand_plantsPerAc: Float64Array.from(rows, (row) => row.stand),
    yield_buPerAc: Float64Array.from(rows, (row) => row.y),
    block: Uint32Array.from(rows, (row) => row.block),
  };
}
