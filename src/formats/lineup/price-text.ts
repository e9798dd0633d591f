import { figureOf } from '../text/figure-text.ts';

/** A price in dollars: null where there is none, NaN where it is none, or the currency it is in. */
export function priceOf(text: string): number | null | { readonly currency: string } {
  const said = text.trim();
  const currency = /[€£¥₹]|\b(?:EUR|GBP|CAD|AUD|BRL|CHF|DKK|SEK|PLN)\b|kr\b|R\$|C\$|A\$/i.exec(said);
  if (currency) return { currency: currency[0] };
  return figureOf(said.replace(/^(US)?\$\s*|\s*\$$|\bUSD\b/gi, '').replace(/^-\s*\$/, '-'), false);
}
