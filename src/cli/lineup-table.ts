import type { Issue } from '../engine/issue.ts';
import type { Product } from '../engine/lineup/product.ts';
import { writeLineupCsv } from '../formats/lineup/write-lineup-csv.ts';
import { figure } from '../run/figures.ts';
import { saveFile } from './disk.ts';
import { openLineup } from './open-lineup.ts';
import { DONE, hasError, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

export interface TableOptions {
  readonly out: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** `eachacre lineup table LINEUP --out FILE.csv`: its products as a table, one a row, as `lineup read` takes it back. */
export function saveTable(path: string, { out, force, json }: TableOptions): number {
  const { lineup, issues: found } = openLineup(path);
  const issues = [...found, ...(lineup ? leftOut(path, lineup.products) : [])];
  const wrong = lineup === null || hasError(issues);
  if (!wrong) saveFile(out, writeLineupCsv(lineup.products, lineup.scales), force ?? false);
  if (json) tellJson({ out: wrong ? null : out, products: wrong ? 0 : lineup.products.length, issues });
  else {
    tellIssues(issues);
    if (!wrong) tell(`Wrote ${out}: ${figure.count(lineup.products.length, 'product')}.`);
  }
  return wrong ? WRONG_INPUT : DONE;
}

/** What no table of products holds. */
function leftOut(where: string, products: readonly Product[]): Issue[] {
  const parts: [string, number][] = [
    ['a response', products.filter(({ response }) => response !== null).length],
    ['placement rules', products.filter(({ placement }) => placement.length > 0).length],
    ['plots of trials', products.filter(({ plots }) => plots !== null).length],
  ];
  const held = parts.filter(([, count]) => count > 0);
  if (held.length === 0) return [];
  return [
    {
      code: 'table-holds-less',
      severity: 'note',
      where,
      found: held.map(([what, count]) => `${count} of ${products.length} products with ${what}`).join(', '),
      expected: 'what stands in a row: price, seeds, maturity, treatments, traits, ratings, notes',
      effect: 'The rest is not in the table; the lineup keeps it',
      remedy: 'Bring a changed table back with lineup read --onto this lineup, which keeps the rest',
    },
  ];
}
