import type { RatedProduct } from './product.ts';

/** The product as its seed is bought: with those of the treatments it is offered with that are named, at their price; without the others. */
export function treatedSeed(product: RatedProduct, names: readonly string[]): RatedProduct {
  const treatments = product.treatments.filter(({ name }) => names.includes(name));
  return { ...product, treatments, pricePerUnit: product.pricePerUnit + treatmentPrice(treatments) };
}

/** $ a unit. */
export function treatmentPrice(treatments: RatedProduct['treatments']): number {
  return treatments.reduce((sum, { pricePerUnit }) => sum + pricePerUnit, 0);
}
