import type { RatedProduct } from '../lineup/product.ts';
import type { ProductLedgerRow } from './ledger.ts';

/** A product as it is ordered. */
export interface OrderLine {
  readonly product: number;
  readonly productName: string;
  /** Seeds planted, and those to be had over them. */
  readonly seeds: number;
  readonly spareSeeds: number;
  /** Whole units, rounded up once for the whole field; boxes, rounded up to whole ones, where seed comes in boxes. */
  readonly units: number;
  readonly boxes: number | null;
  /** Of the units, or of the boxes, ordered; treatments are in it. */
  readonly cost: number;
}

export interface OrderTerms {
  /** Seed over what is planted, as a share. */
  readonly spare: number;
  /** Null where seed comes by the unit. */
  readonly unitsPerBox: number | null;
}

/** A hair of tolerance, so that 40 units counted as 40.0000000001 stay 40. */
const HAIR = 1e-9;

/** What is to be ordered, a line a product: part of a unit, or of a box, is a whole one, and is rounded up once, never zone by zone. */
export function orderOf(
  byProduct: readonly ProductLedgerRow[],
  products: readonly RatedProduct[],
  { spare, unitsPerBox }: OrderTerms,
): OrderLine[] {
  return byProduct.map(({ product, productName, seeds }) => {
    const { seedsPerUnit, pricePerUnit } = products[product];
    const spareSeeds = Math.round(seeds * spare);
    const needed = (seeds + spareSeeds) / seedsPerUnit;
    const boxes = unitsPerBox === null ? null : Math.ceil(needed / unitsPerBox - HAIR);
    const units = boxes === null ? Math.ceil(needed - HAIR) : boxes * (unitsPerBox ?? 0);
    return { product, productName, seeds, spareSeeds, units, boxes, cost: units * pricePerUnit };
  });
}
