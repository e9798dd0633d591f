import type { Product } from '../../../engine/lineup/product.ts';

/** What products are called, in their order: by name, with the crop where another has that name; of one crop a lineup holds no two. */
export function productNames(products: readonly Pick<Product, 'name' | 'crop'>[]): string[] {
  const called = new Map<string, number>();
  for (const { name } of products) called.set(name, (called.get(name) ?? 0) + 1);
  return products.map(({ name, crop }) => (called.get(name) === 1 ? name : `${name} (${crop})`));
}
