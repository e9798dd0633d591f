/** Whether two names mean one crop: `Soybeans` and `soybean` do. */
export function sameCrop(a: string, b: string): boolean {
  const plain = (name: string) => name.trim().toLowerCase().replace(/s$/, '');
  return plain(a) === plain(b);
}
