import type { Issue } from '../engine/issue.ts';
import { type FittedLineup, fitLineup } from '../engine/lineup/fit-lineup.ts';
import { newProduct } from '../engine/lineup/new-product.ts';
import type { Product, RatingScale } from '../engine/lineup/product.ts';
import { plainCrop } from '../engine/math/crop-name.ts';
import type { FamilyId } from '../engine/response/family.ts';
import { idOf, productKey } from '../formats/lineup/product-ids.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
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

export interface FittedDocument {
  readonly lineup: Lineup;
  /** By crop. */
  readonly fits: readonly { readonly crop: string; readonly fitted: FittedLineup }[];
  readonly issues: readonly Issue[];
}

/** Seeds of a unit where nobody says. Common practice, no source; a table of products tells better. */
const USUAL_SEEDS_PER_UNIT: Readonly<Record<string, number>> = { corn: 80_000, soybean: 140_000 };
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
  const left = new Map(known.products.map((product) => [productKey(product), product]));
  const taken = new Set(known.products.map(({ id }) => id));
  const guessed: string[] = [];
  const fitted = fits.flatMap(({ fitted: { products } }) =>
    products.map(({ product: index, response, tested_plantsPerAc, fit, plots }): Product => {
      const named = table.products[index];
      const before = left.get(productKey(named));
      left.delete(productKey(named));
      if (!before) guessed.push(named.name);
      const own = before ?? unknownProduct(named, taken);
      taken.add(own.id);
      return { ...own, response, tested_plantsPerAc, fit, plots };
    }),
  );
  const products = [...fitted, ...[...left.values()].map((product) => ({ ...product, plots: null }))];
  return {
    lineup: {
      document: 'eachacre-lineup',
      version: 1,
      name: request.name,
      scales: known.scales as readonly RatingScale[],
      sites: table.sites.map(({ name, year }, site) => ({
        name,
        year,
        environment_buPerAc: environmentAt(fits, site),
      })),
      products,
    },
    fits,
    issues: [...fits.flatMap(({ fitted: { issues } }) => issues), ...unitsGuessed(guessed, products)],
  };
}

const NOTHING_KNOWN: KnownProducts = { products: [], scales: [] };

function unknownProduct({ name, crop }: { name: string; crop: string }, taken: ReadonlySet<string>): Product {
  return newProduct({
    id: idOf(name, taken),
    name,
    crop: plainCrop(crop),
    seedsPerUnit: USUAL_SEEDS_PER_UNIT[plainCrop(crop)] ?? OTHER_SEEDS_PER_UNIT,
  });
}

/** A site has one crop, or much the same environment for both: that of the first is kept, to a tenth of a bushel. */
function environmentAt(fits: FittedDocument['fits'], site: number): number | null {
  for (const { fitted } of fits) {
    const own = fitted.environment_buPerAc[site];
    if (own > 0) return Math.round(10 * own) / 10;
  }
  return null;
}

function unitsGuessed(names: readonly string[], products: readonly Product[]): Issue[] {
  if (names.length === 0) return [];
  const seeds = [
    ...new Set(products.filter(({ name }) => names.includes(name)).map(({ seedsPerUnit }) => seedsPerUnit)),
  ];
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
