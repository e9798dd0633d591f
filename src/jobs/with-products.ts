import type { Product, RatingScale } from '../engine/lineup/product.ts';
import { idOf, productKey } from '../formats/lineup/product-ids.ts';
import type { LineupCsvRead } from '../formats/lineup/read-lineup-csv.ts';
import type { KnownProducts } from './fit-lineup.ts';

/**
 * What is known of products, and what a table of products says besides. Of a product that is known the table goes before, but its blank cells say nothing; trials, responses and rules stay. Others are added.
 */
export function withProducts(known: KnownProducts, told: LineupCsvRead): KnownProducts {
  const { scales, idOfScale } = joinScales(known.scales, told.scales);
  const rated = told.products.map((product) => ({
    ...product,
    ratings: product.ratings.map((own) => ({ ...own, scale: idOfScale(own.scale) })),
  }));
  const before = new Set(known.products.map(productKey));
  const taken = new Set(known.products.map(({ id }) => id));
  const products = known.products.map((product) => {
    const said = rated.find((own) => productKey(own) === productKey(product));
    return said ? saidOf(product, said, told.seedsAssumed.includes(said.name)) : product;
  });
  const added = rated.flatMap((product) => {
    if (before.has(productKey(product))) return [];
    const id = taken.has(product.id) ? idOf(product.name, taken) : product.id;
    taken.add(id);
    return [{ ...product, id }];
  });
  return { scales, products: [...products, ...added] };
}

function saidOf(product: Product, said: Product, seedsAssumed: boolean): Product {
  const names = new Set(said.ratings.map(({ of }) => of));
  return {
    ...product,
    seedsPerUnit: seedsAssumed ? product.seedsPerUnit : said.seedsPerUnit,
    pricePerUnit: said.pricePerUnit ?? product.pricePerUnit,
    gddToMaturity: said.gddToMaturity ?? product.gddToMaturity,
    maturity: said.maturity || product.maturity,
    stature: said.stature || product.stature,
    notes: said.notes || product.notes,
    meterNotes: said.meterNotes || product.meterNotes,
    stewardshipNotes: said.stewardshipNotes || product.stewardshipNotes,
    treatments: said.treatments.length > 0 ? said.treatments : product.treatments,
    traits: said.traits.length > 0 ? said.traits : product.traits,
    ratings: [...product.ratings.filter(({ of }) => !names.has(of)), ...said.ratings],
  };
}

/** Scales of both; one of the same name and other ends gets a name of its own, lest ratings be read the wrong way round. */
function joinScales(known: readonly RatingScale[], told: readonly RatingScale[]) {
  const scales = [...known];
  const renamed = new Map<string, string>();
  for (const scale of told) {
    const twin = scales.find(({ id }) => id === scale.id);
    if (!twin) scales.push(scale);
    else if (twin.lowest !== scale.lowest || twin.highest !== scale.highest || twin.best !== scale.best) {
      const id = idOf(scale.id, new Set(scales.map((own) => own.id)));
      scales.push({ ...scale, id });
      renamed.set(scale.id, id);
    }
  }
  return { scales, idOfScale: (id: string) => renamed.get(id) ?? id };
}
