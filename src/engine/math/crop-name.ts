/** A crop's name as the trade writes it in the singular, lower case: `Soybeans` is `soybean`, `maize` is `corn`. */
export function plainCrop(name: string): string {
  const singular = name.trim().toLowerCase().replace(/s$/, '');
  if (singular === 'maize') return 'corn';
  if (singular === 'soy' || singular === 'soya') return 'soybean';
  // The one name in the list whose singular nobody writes.
  return singular === 'oat' ? 'oats' : singular;
}

/** Whether two names mean one crop. */
export function sameCrop(a: string, b: string): boolean {
  return plainCrop(a) === plainCrop(b);
}
