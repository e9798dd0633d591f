import type { Issue } from '../issue.ts';
import { STANDS_FOR_A_CURVE } from '../response/fit/fit-refusal.ts';
import type { FittedProduct } from './fit-lineup.ts';
import type { TrialTable } from './trial-table.ts';

/** Products without a curve, and those whose curve shows no best stand of their own for want of stands; what is the same of several is told once. */
export function fitIssues(products: readonly FittedProduct[], { products: named }: TrialTable): Issue[] {
  const found = new Map<string, { readonly issue: Omit<Issue, 'where'>; readonly names: string[] }>();
  for (const own of products) {
    const issue = own.response === null ? withoutCurve(own) : fewStands(own, own.response.family === 'line');
    if (issue === null) continue;
    const text = Object.values(issue).join('\n');
    const { names } = found.get(text) ?? { names: [] };
    found.set(text, { issue, names: [...names, named[own.product].name] });
  }
  return [...found.values()].map(({ issue, names }) => ({ ...issue, where: listed(names) }));
}

function withoutCurve({ fit, stands }: FittedProduct): Omit<Issue, 'where'> {
  return {
    code: 'product-without-curve',
    severity: 'warning',
    found: fit.said[fit.said.length - 1].replace(/\.$/, ''),
    expected: `plots at ${STANDS_FOR_A_CURVE} stands or more that show a best one`,
    effect:
      'It has no response to population, so no rate can be set for it; its yields still count in comparisons',
    remedy:
      stands < STANDS_FOR_A_CURVE
        ? 'Add trials in which its stand was varied'
        : 'Add trials over a wider range of stands',
  };
}

/** A curve over fewer stands than show one: the line between them, or what the other products have. */
function fewStands({ stands }: FittedProduct, line: boolean): Omit<Issue, 'where'> | null {
  if (stands >= STANDS_FOR_A_CURVE) return null;
  return {
    code: 'product-few-stands',
    severity: 'warning',
    found: stands === 1 ? 'plots at one stand' : `plots at ${stands} stands`,
    expected: `${STANDS_FOR_A_CURVE} stands or more, for a best one to show`,
    effect: line
      ? 'Its response is the straight line between them: no best stand of its own is known'
      : 'Its best stand is that of the other products of its crop',
    remedy: 'Add trials in which its stand was varied more',
  };
}

/** Of many products the first few by name. */
const NAMED = 5;

function listed(names: readonly string[]): string {
  const shown = names.length > NAMED + 1 ? names.slice(0, NAMED) : names;
  const rest = names.length - shown.length;
  return `${shown.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}`;
}
