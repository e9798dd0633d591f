import type { RatedProduct } from '../../engine/lineup/product.ts';
import { closeLedger } from '../../engine/prescription/close-ledger.ts';
import type { CutCell } from '../../engine/prescription/cut-cells.ts';
import type { Ledger } from '../../engine/prescription/ledger.ts';
import type { OrderTerms } from '../../engine/prescription/order.ts';
import type { PrescriptionFeature } from '../../engine/prescription/prescription.ts';
import type { ZoneChoice } from '../../engine/rates/assignment.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';

export interface FilledPrescription {
  readonly ledger: Ledger;
  readonly features: readonly PrescriptionFeature[];
}

/** Polygons and choices → the prescription, and the ledger that closes over it. */
export function fillPrescription(
  pieces: readonly CutCell[],
  zoning: Zoning,
  choices: readonly ZoneChoice[],
  products: readonly RatedProduct[],
  terms: OrderTerms,
): FilledPrescription {
  const features = pieces.map((piece) => ({
    polygons: piece.polygons,
    zone: piece.label,
    product: choices[piece.label].chosen.product,
    seedsPerAc: choices[piece.label].chosen.seedsPerAc,
    area_m2: piece.area_m2,
  }));
  return { ledger: closeLedger(zoning, choices, products, terms), features };
}
