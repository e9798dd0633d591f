import type { Issue } from '../engine/issue.ts';
import { Refusal } from '../engine/issue.ts';
import type { Product } from '../engine/lineup/product.ts';
import { productKey } from '../formats/lineup/product-ids.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { figure } from '../run/figures.ts';
import { saveFile } from './disk.ts';
import { openLineup, rowsText } from './open-lineup.ts';
import { DONE, hasError, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

export interface ReadOptions {
  readonly out: string;
  readonly crop?: string;
  readonly name?: string;
  readonly onto?: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** `eachacre lineup read TABLE --out LINEUP`: a table of products as a lineup document. With an error in a row nothing is written. */
export function readTable(path: string, options: ReadOptions): number {
  const { lineup, ledger, issues: found } = openLineup(path, options.crop);
  if (ledger === null && lineup !== null)
    throw new Refusal({
      code: 'lineup-not-table',
      where: path,
      found: 'a lineup document',
      expected: 'a table of products',
      effect: 'Nothing is written',
      remedy: 'It is a lineup as it is; make a table of it with lineup table',
    });
  const issues = [...found];
  const before = options.onto === undefined ? null : lineupOf(options.onto);
  const named = lineup && { ...lineup, name: options.name ?? before?.name ?? lineup.name };
  const made = named && before ? onto(named, before, options.onto as string, issues) : named;
  const wrong = made === null || hasError(issues);
  if (!wrong) {
    const bytes = new TextEncoder().encode(`${JSON.stringify(made, null, 1)}\n`);
    saveFile(options.out, bytes, options.force ?? false);
  }
  if (options.json)
    tellJson({
      lineup: wrong ? null : options.out,
      products: made?.products.map(({ id, name, crop }) => ({ id, name, crop })) ?? [],
      ledger,
      issues,
    });
  else {
    if (ledger) tell(rowsText(path, ledger));
    tellIssues(issues);
    if (!wrong) tell(`Wrote ${options.out}: ${figure.count(made.products.length, 'product')}.`);
  }
  return wrong ? WRONG_INPUT : DONE;
}

function lineupOf(path: string): Lineup {
  const { lineup, issues } = openLineup(path);
  if (lineup === null) throw new Refusal(issues.find(({ severity }) => severity === 'error') ?? issues[0]);
  return lineup;
}

/** What no table holds is taken from the lineup of before, product by id, else by name. */
function onto(table: Lineup, before: Lineup, where: string, issues: Issue[]): Lineup {
  const left = new Set(before.products);
  const products = table.products.map((product): Product => {
    const own =
      before.products.find(({ id }) => id === product.id) ??
      before.products.find((other) => productKey(other) === productKey(product));
    if (!own) return product;
    left.delete(own);
    const { response, fit, tested_plantsPerAc, placement, plots } = own;
    return { ...product, id: own.id, response, fit, tested_plantsPerAc, placement, plots };
  });
  if (left.size > 0)
    issues.push({
      code: 'product-not-in-table',
      severity: 'warning',
      where,
      found: `${figure.count(left.size, 'product')} of the lineup without a row (${[...left]
        .slice(0, 5)
        .map(({ name }) => name)
        .join(', ')}${left.size > 5 ? ', …' : ''})`,
      expected: 'a row for each product that stays',
      effect: 'They are no longer in the lineup that is written',
      remedy: 'Add their rows to keep them',
    });
  return { ...table, sites: before.sites, products };
}
