import type { Product } from './product.ts';

/** A product of which only this is known. */
export function newProduct(
  known: Pick<Product, 'id' | 'name' | 'crop' | 'seedsPerUnit'> & Partial<Product>,
): Product {
  return {
    maturity: '',
    gddToMaturity: null,
    pricePerUnit: null,
    treatments: [],
    traits: [],
    ratings: [],
    stature: '',
    notes: '',
    meterNotes: '',
    stewardshipNotes: '',
    tested_plantsPerAc: null,
    response: null,
    fit: null,
    placement: [],
    plots: null,
    ...known,
  };
}
