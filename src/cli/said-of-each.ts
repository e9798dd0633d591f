/** A product of a crop with what is said of it. */
export interface SaidOfProduct {
  readonly name: string;
  readonly texts: readonly string[];
}

/** Up to so many products are named. */
const FEW = 3;

/** What is said of products, a line each: what is said of several alike first and once, with who they are; then what is said of one alone, product by product. */
export function saidOfEach(products: readonly SaidOfProduct[]): string[] {
  const names = new Map<string, string[]>();
  for (const { name, texts } of products)
    for (const text of new Set(texts)) names.set(text, [...(names.get(text) ?? []), name]);
  const all = products.map(({ name }) => name);
  const shared = [...names].filter(([, own]) => own.length > 1);
  return [
    ...shared.map(([text, own]) => `${whoOf(own, all)}: ${text}`),
    ...products.flatMap(({ name, texts }) =>
      [...new Set(texts)].filter((text) => names.get(text)?.length === 1).map((text) => `${name}: ${text}`),
    ),
  ];
}

function whoOf(names: readonly string[], all: readonly string[]): string {
  if (names.length === all.length) return `Each of the ${all.length} products`;
  if (names.length <= FEW) return `${listed(names)}, each`;
  const rest = all.filter((name) => !names.includes(name));
  return rest.length <= FEW
    ? `Each of the products but ${listed(rest)}`
    : `Each of ${names.length} of the ${all.length} products`;
}

function listed(names: readonly string[]): string {
  return names.length === 1 ? names[0] : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}
