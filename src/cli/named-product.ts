import { Refusal } from '../engine/issue.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { plainCrop, sameCrop } from '../engine/math/crop-name.ts';

/**
 * The index of a product by its name, whatever its case, or by the beginning of it where only one begins so; where a crop is said, among those of that crop. Refuses a name that is none or several, or of
 * several crops.
 */
export function namedProduct(
  products: TrialTable['products'],
  said: string,
  where: string,
  crop?: string,
): number {
  const key = said.trim().toLowerCase();
  const among = [...products.keys()].filter((k) => crop === undefined || sameCrop(products[k].crop, crop));
  const called = (has: (name: string) => boolean) =>
    among.filter((k) => has(products[k].name.trim().toLowerCase()));
  const exact = called((name) => name === key);
  const cropsOf = (found: readonly number[]) => [...new Set(found.map((k) => plainCrop(products[k].crop)))];
  const crops = cropsOf(exact);
  if (crops.length > 1) refuseCrops(said, crops, where);
  if (exact.length > 0) return exact[0];
  const begun = called((name) => name.startsWith(key));
  if (begun.length === 1) return begun[0];
  const names = new Set(begun.map((k) => products[k].name.trim().toLowerCase()));
  if (names.size === 1) refuseCrops(products[begun[0]].name, cropsOf(begun), where);
  const all = [...new Set(among.map((k) => products[k].name))];
  const within = crop === undefined ? '' : ` among those of ${plainCrop(crop)}`;
  throw new Refusal({
    code: 'product-not-named',
    where,
    found:
      begun.length === 0
        ? `no product called ${said}${within}`
        : `${begun.length} products that begin with ${said}${within}`,
    expected:
      all.length === 0
        ? `a crop that was tried: ${cropsOf([...products.keys()]).join(', ')}`
        : `one of ${all.slice(0, 30).join(', ')}${all.length > 30 ? ` and ${all.length - 30} more` : ''}`,
    effect: 'Nothing is compared',
    remedy: 'Name the product as the trials do',
  });
}

function refuseCrops(name: string, crops: readonly string[], where: string): never {
  throw new Refusal({
    code: 'product-of-several-crops',
    where,
    found: `${name} of ${crops.slice(0, -1).join(', ')} and ${crops[crops.length - 1]}`,
    expected: 'one product of that name',
    effect: 'Nothing is compared',
    remedy: `Say which: ${crops.map((crop) => `--crop ${/\s/.test(crop) ? `"${crop}"` : crop}`).join(' or ')}`,
  });
}
