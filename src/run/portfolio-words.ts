import { figure } from './figures.ts';
import type { Results } from './results.ts';

/** How much of the field hangs on each product, and how early they are; none without choices. One product on all of it is exposed to whatever befalls that one. */
export function portfolioSentences({ ledger, lineup }: Results): string[] {
  if (ledger === null) return [];
  const shares = ledger.byProduct
    .map(({ product, productName, acres }) => ({ product, productName, share: acres / ledger.total.acres }))
    .sort((a, b) => b.share - a.share);
  const listed = shares.map(({ productName, share }) => `${productName} on ${figure.whole(100 * share)} %`);
  const maturities = [...new Set(shares.map(({ product }) => lineup[product].maturity))].filter(
    (own) => own !== '',
  );
  const first =
    shares.length === 1
      ? `All of the field is ${shares[0].productName}: whatever befalls that product befalls all of it.`
      : `The field stands on ${shares.length} products: ${listed.join(', ')}.`;
  return maturities.length < 2 ? [first] : [first, `Their maturities are ${maturities.join(', ')}.`];
}
