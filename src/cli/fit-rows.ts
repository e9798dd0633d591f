import type { Issue } from '../engine/issue.ts';
import type { Estimate } from '../engine/lineup/estimate.ts';
import type { FittedLineup } from '../engine/lineup/fit-lineup.ts';
import type { Product } from '../engine/lineup/product.ts';
import { optimumInterval } from '../engine/lineup/response-interval.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { STANDS_FOR_A_CURVE } from '../engine/response/fit/fit-refusal.ts';
import { productKey } from '../formats/lineup/product-ids.ts';
import { type FitEvidence, fitEvidence } from '../jobs/fit-evidence.ts';
import type { FittedDocument } from '../jobs/fit-lineup.ts';
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
  own: FittedLineup,
  names: TrialTable['products'],
  { lineup }: FittedDocument,
  evidence: ReadonlyMap<number, FitEvidence>,
): FittedRow[] {
  const byKey = new Map(lineup.products.map((product) => [productKey(product), product]));
  return own.products.flatMap(({ product: index }) => {
    const product = byKey.get(productKey(names[index]));
    const why = evidence.get(index);
    return product && why ? [{ product, evidence: why }] : [];
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
export function bestStandAt(response: Product['response'], reference_buPerAc: number): Estimate | null {
  return response === null || response.family === 'line'
    ? null
    : optimumInterval(response, reference_buPerAc, 0);
}
