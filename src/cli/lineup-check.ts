import type { Product } from '../engine/lineup/product.ts';
import { FAMILIES } from '../engine/response/families.ts';
import { emptyLineup } from '../formats/lineup/read-lineup-csv.ts';
import { figure } from '../run/figures.ts';
import { openLineup, rowsText } from './open-lineup.ts';
import { DONE, hasError, table, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

/** `eachacre lineup check LINEUP`: whether a lineup, or a table of products, holds together, and what of each product is known. */
export function checkLineup(path: string, options: { crop?: string; json?: boolean }): number {
  const { lineup, ledger, issues: found } = openLineup(path, options.crop);
  const issues = [
    ...found,
    ...(lineup?.products.length === 0 && !hasError(found) ? [emptyLineup(path)] : []),
  ];
  if (options.json) {
    tellJson({
      lineup: lineup?.name ?? null,
      products:
        lineup?.products.map((own) => ({ id: own.id, name: own.name, crop: own.crop, lacks: lacks(own) })) ??
        [],
      ...(ledger ? { ledger } : {}),
      issues,
    });
  } else {
    if (ledger) tell(rowsText(path, ledger));
    if (lineup) {
      const plots = lineup.products.reduce((sum, { fit }) => sum + (fit?.plots ?? 0), 0);
      tell(
        `${lineup.name}: ${figure.count(lineup.products.length, 'product')}, ${figure.count(lineup.sites.length, 'trial site')}, ${figure.count(plots, 'plot')}`,
      );
      if (lineup.products.length > 0)
        tell(table([['product', 'crop', 'known', 'lacks'], ...lineup.products.map(row)], 4));
    }
    tellIssues(issues);
  }
  return hasError(issues) ? WRONG_INPUT : DONE;
}

function row(product: Product): string[] {
  const { response, fit } = product;
  const known = response
    ? `${FAMILIES[response.family].title}${fit ? `, ${figure.count(fit.sites, 'site')}` : ''}${response.uncertainty ? '' : ', not how sure'}`
    : 'no response';
  return [product.name, product.crop, known, lacks(product).join(', ') || 'nothing'];
}

/** What a rate needs and the lineup does not say. */
function lacks({ pricePerUnit, response, tested_plantsPerAc }: Product): string[] {
  return [
    ...(pricePerUnit === null ? ['price'] : []),
    ...(response === null ? ['response'] : []),
    ...(tested_plantsPerAc === null ? ['tested stands'] : []),
  ];
}
