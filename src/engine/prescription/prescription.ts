import type { Polygon } from '../geometry/ring.ts';

/** One polygon set of the prescription: one product at one rate. Field frame metres. */
export interface PrescriptionFeature {
  readonly polygons: readonly Polygon[];
  readonly zone: number;
  readonly product: number;
  readonly seedsPerAc: number;
  readonly area_m2: number;
}
