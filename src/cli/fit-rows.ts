import type { Issue } from '../engine/issue.ts';
import type { Estimate } from '../engine/lineup/estimate.ts';
import type { Product } from '../engine/lineup/product.ts';
import { optimumInterval } from '../engine/lineup/response-interval.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { STANDS_FOR_A_CURVE } from '../engine/response/fit/fit-refusal.ts';
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

/** A curve over fewer stands than show one: the line between them, or what the other products have. */
export function fewStands({ product: { name, response }, evidence: { stands } }: FittedRow): Issue[] {
  if (response === null || stands >= STANDS_FOR_A_CURVE) return [];
  return [
    {
      code: 'product-few-stands',
      severity: 'warning',
      where: name,
      found: stands === 1 ? 'plots at one stand' : `plots at ${stands} stands`,
      expected: `${STANDS_FOR_A_CURVE} stands or more, for a best one to show`,
      effect:
        response.family === 'line'
          ? 'Its response is the straight line between them: no best stand of its own is known'
          : 'Its best stand is that of the other products of its crop',
      remedy: 'Add trials in which its stand was varied more',
    },
  ];
}

/** Null for a straight line: its best end is that of the stands tried, and no best stand. */
export function bestStandAt(
  { response, tested_plantsPerAc }: Product,
  reference_buPerAc: number,
): Estimate | null {
  return response === null || response.family === 'line'
    ? null
    : optimumInterval(response, reference_buPerAc, 0, tested_plantsPerAc);
}
