import type { Product } from '../../engine/lineup/product.ts';
import { plainCrop } from '../../engine/math/crop-name.ts';

const LONGEST = 40;

/** An id made of a name, unlike those taken. */
export function idOf(name: string, taken: ReadonlySet<string>): string {
  const plain = name
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  const base = plain === '' ? 'product' : plain;
  let id = base.slice(0, LONGEST);
  for (let n = 2; taken.has(id); n++) {
    const end = `-${n}`;
    id = base.slice(0, LONGEST - end.length) + end;
  }
  return id;
}

export function isId(id: string): boolean {
  return id.length >= 1 && id.length <= LONGEST;
}

/** What two products of one lineup may not share: the name, whatever its case and blanks, within a crop. */
export function productKey({ name, crop }: Pick<Product, 'name' | 'crop'>): string {
  return `${name.replace(/\s+/g, '').toLowerCase()}\u0001${plainCrop(crop)}`;
}
