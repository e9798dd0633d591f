import type { Issue } from '../engine/issue.ts';
import { type FittedLineup, fitLineup } from '../engine/lineup/fit-lineup.ts';
import { newProduct } from '../engine/lineup/new-product.ts';
import type { Product, RatingScale } from '../engine/lineup/product.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { plainCrop } from '../engine/math/crop-name.ts';
import { usualSeedsPerUnit } from '../engine/math/units.ts';
import type { FamilyId } from '../engine/response/family.ts';
import { idOf, productKey } from '../formats/lineup/product-ids.ts';
import type { Lineup, LineupSite } from '../plan/lineup-schema.ts';
import type { RunControl } from '../run/walk.ts';
import type { OpenTrials } from './open-trials.ts';

/** What is known of the products beside their trials: a lineup, or a table of products. */
export type KnownProducts = Pick<Lineup, 'products' | 'scales'>;

export interface FitRequest {
  readonly name: string;
  readonly known?: KnownProducts | null;
  readonly reference_buPerAc?: number | null;
  readonly families?: readonly FamilyId[];
}

/** One crop of the trials; its products as the lineup has them, in the order of the fit's. */
export interface CropFit {
  readonly crop: string;
  readonly fitted: FittedLineup;
  readonly products: readonly Product[];
}

export interface FittedDocument {
  readonly lineup: Lineup;
  readonly fits: readonly CropFit[];
  readonly issues: readonly Issue[];
}

/** Seeds of a unit of a crop without a usual one. Our own choice; a table of products tells better. */
const OTHER_SEEDS_PER_UNIT = 1_000_000;

/**
 * A lineup of what trials tell of its products, and of what is known of them beside: price, treatments, ratings, rules stay as they are. Products that are known and in no trial stay too; sites are those of these
 * trials alone, so plots of a lineup that were fitted before are replaced, for all its products.
 */
export function fitTrials(
  trials: Pick<OpenTrials, 'table' | 'lineup'>,
  request: FitRequest,
  control: RunControl = {},
): FittedDocument {
  const { table } = trials;
  const crops = [...new Set(table.products.map(({ crop }) => plainCrop(crop)))];
  const fits = crops.map((crop, k) => ({
    crop,
    fitted: fitLineup(table, crop, {
      ...(request.families ? { families: request.families } : {}),
      reference_buPerAc: request.reference_buPerAc ?? null,
      onProgress: (share) => {
        control.signal?.throwIfAborted();
        control.onProgress?.({ step: `Fitting ${crop}`, share: (k + share) / crops.length });
      },
    }),
  }));
  const known: KnownProducts = request.known ?? trials.lineup ?? NOTHING_KNOWN;
  const sites = sitesByCrop(table, fits);
  const left = new Map(known.products.map((product) => [productKey(product), product]));
  const taken = new Set(known.products.map(({ id }) => id));
  const guessed: Product[] = [];
  const ofCrops = fits.map(({ fitted: { products } }, k) =>
    products.map(({ product: index, response, tested_plantsPerAc, fit, plots }): Product => {
      const named = table.products[index];
      const before = left.get(productKey(named));
      left.delete(productKey(named));
      const own = before ?? unknownProduct(named, taken);
      if (!before) guessed.push(own);
      taken.add(own.id);
      const site = plots.site.map((at) => sites.index[k][at]);
      return { ...own, response, tested_plantsPerAc, fit, plots: { ...plots, site } };
    }),
  );
  const products = [...ofCrops.flat(), ...[...left.values()].map((product) => ({ ...product, plots: null }))];
  return {
    lineup: {
      document: 'eachacre-lineup',
      version: 1,
      name: request.name,
      scales: known.scales as readonly RatingScale[],
      sites: sites.all,
      products,
    },
    fits: fits.map((own, k) => ({ ...own, products: ofCrops[k] })),
    issues: [...fits.flatMap(({ fitted: { issues } }) => issues), ...unitsGuessed(guessed)],
  };
}

const NOTHING_KNOWN: KnownProducts = { products: [], scales: [] };

function unknownProduct({ name, crop }: { name: string; crop: string }, taken: ReadonlySet<string>): Product {
  return newProduct({
    id: idOf(name, taken),
    name,
    crop: plainCrop(crop),
    seedsPerUnit: usualSeedsPerUnit(plainCrop(crop)) ?? OTHER_SEEDS_PER_UNIT,
  });
}

/**
 * Sites with what the ground there yields of each crop that stood on it: a site of two crops is two, since its corn says nothing of bushels of soybeans. Environments worked out are kept to a tenth of a bushel.
 * `index`: by crop and by site of the table.
 */
function sitesByCrop({ sites }: TrialTable, fits: readonly Pick<CropFit, 'fitted'>[]) {
  const all: LineupSite[] = [];
  const index = fits.map(() => new Int32Array(sites.length).fill(-1));
  for (const [at, { name, year, environment_buPerAc: told }] of sites.entries())
    for (const [k, { fitted }] of fits.entries()) {
      const own = fitted.environment_buPerAc[at];
      if (Number.isNaN(own)) continue;
      const environment_buPerAc = own > 0 ? Math.round(10 * own) / 10 : null;
      index[k][at] = all.push({ name, year, environment_buPerAc, environmentTold: told > 0 }) - 1;
    }
  return { all, index };
}

function unitsGuessed(products: readonly Product[]): Issue[] {
  if (products.length === 0) return [];
  const names = products.map(({ name }) => name);
  const seeds = [...new Set(products.map(({ seedsPerUnit }) => seedsPerUnit))];
  return [
    {
      code: 'product-without-price',
      severity: 'warning',
      where: 'lineup',
      found: `${names.length === 1 ? '1 product' : `${names.length} products`} known from trials alone (${names.slice(0, 5).join(', ')}${names.length > 5 ? ', …' : ''})`,
      expected: 'price and seeds per unit of each',
      effect: `No price; units are taken to hold ${seeds.map((own) => own.toLocaleString('en-US')).join(' or ')} seeds`,
      remedy: 'Give a table of products (command line: --products), or set them in the app',
    },
  ];
}
