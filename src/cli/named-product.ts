import { Refusal } from '../engine/issue.ts';

/** The index of a product by its name, whatever its case, or by the beginning of it where only one begins so. Refuses a name that is none or several. */
export function namedProduct(names: readonly string[], said: string, where: string): number {
  const key = said.trim().toLowerCase();
  const exact = names.findIndex((name) => name.trim().toLowerCase() === key);
  if (exact >= 0) return exact;
  const begun = names.flatMap((name, k) => (name.trim().toLowerCase().startsWith(key) ? [k] : []));
  if (begun.length === 1) return begun[0];
  throw new Refusal({
    code: 'product-not-named',
    where,
    found:
      begun.length === 0 ? `no product called ${said}` : `${begun.length} products that begin with ${said}`,
    expected: `one of ${names.slice(0, 30).join(', ')}${names.length > 30 ? ` and ${names.length - 30} more` : ''}`,
    effect: 'Nothing is compared',
    remedy: 'Name the product as the trials do',
  });
}
