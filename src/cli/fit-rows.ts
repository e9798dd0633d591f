import type { Estimate } from '../engine/lineup/estimate.ts';
import type { Product } from '../engine/lineup/product.ts';
import { optimumInterval } from '../engine/lineup/response-interval.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { withinTested } from '../engine/lineup/within-tested.ts';
import { type FitEvidence, fitEvidence } from '../jobs/fit-evidence.ts';
import type { CropFit, FittedDocument } from '../jobs/fit-lineup.ts';
import type { RunControl } from '../run/walk.ts';

/** What the curves rest on, by product of the trials. */
export function evidenceOf(
  table: TrialTable,
  { fits }: FittedDocument,
  bootstrap: boolean,
  { signal, onProgress }: RunControl,
): ReadonlyMap<number, FitEvidence> {
  return new Map(
    fits.flatMap(({ crop, fitted }) =>
      fitEvidence(table, fitted, {
        bootstrap,
        onProduct: (share) => {
          signal?.throwIfAborted();
          onProgress?.({ step: `What the curves of ${crop} rest on`, share });
        },
      }).map((own) => [own.product, own] as const),
    ),
  );
}

export interface FittedRow {
  readonly product: Product;
  readonly evidence: FitEvidence;
}

/** The products of a crop as the lineup has them, in the order of the trials. */
export function rowsOf(
  { fitted, products }: CropFit,
  evidence: ReadonlyMap<number, FitEvidence>,
): FittedRow[] {
  return fitted.products.flatMap(({ product }, k) => {
    const why = evidence.get(product);
    return why ? [{ product: products[k], evidence: why }] : [];
  });
}

/** As far as the stands tried bear it out. Null for a straight line: its best end is that of the stands tried, and no best stand. */
export function bestStandAt(
  { response, tested_plantsPerAc }: Product,
  reference_buPerAc: number,
): Estimate | null {
  if (response === null || response.family === 'line') return null;
  const found = optimumInterval(response, reference_buPerAc, 0, tested_plantsPerAc);
  return found && withinTested(found, tested_plantsPerAc);
}
