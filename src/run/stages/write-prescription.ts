import type { Issue } from '../../engine/issue.ts';
import type { Product } from '../../engine/lineup/product.ts';
import { closeLedger } from '../../engine/prescription/close-ledger.ts';
import { cutCells } from '../../engine/prescription/cut-cells.ts';
import { cutZones } from '../../engine/prescription/cut-zones.ts';
import type { Ledger } from '../../engine/prescription/ledger.ts';
import type { PrescriptionFeature } from '../../engine/prescription/prescription.ts';
import type { ZoneChoice } from '../../engine/rates/assignment.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import type { FieldResult } from '../results.ts';

export interface WrittenPrescription {
  readonly ledger: Ledger;
  readonly features: readonly PrescriptionFeature[];
  readonly issues: readonly Issue[];
}

/** Zones and choices → prescription polygons and the ledger that closes over them. */
export function writePrescription(
  field: FieldResult,
  zoning: Zoning,
  choices: readonly ZoneChoice[],
  products: readonly Product[],
  shape: Plan['handoff']['shape'],
): WrittenPrescription {
  const cut = shape === 'cells' ? cutCells : cutZones;
  const features = cut(field.grid, field.region, zoning.label).map((piece) => ({
    polygons: piece.polygons,
    zone: piece.label,
    product: choices[piece.label].chosen.product,
    seedsPerAc: choices[piece.label].chosen.seedsPerAc,
    area_m2: piece.area_m2,
  }));
  return { ledger: closeLedger(zoning, choices, products), features, issues: [] };
}
