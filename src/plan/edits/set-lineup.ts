import type { PlacementRule } from '../../engine/lineup/placement-rule.ts';
import type { Product } from '../../engine/lineup/product.ts';
import type { Lineup } from '../lineup-schema.ts';
import { readLineup } from '../validate.ts';

/** An edit of a lineup: the lineup after it, or why it is refused, in words. */
export type EditedLineup = Lineup | string;

/** $ a unit; null takes the price out. */
export function setPrice(lineup: Lineup, id: string, pricePerUnit: number | null): EditedLineup {
  if (pricePerUnit !== null && !(pricePerUnit >= 0)) return 'A price is zero or more.';
  return withProduct(lineup, id, { pricePerUnit });
}

export function setSeedsPerUnit(lineup: Lineup, id: string, seedsPerUnit: number): EditedLineup {
  if (!(Number.isInteger(seedsPerUnit) && seedsPerUnit > 0))
    return 'A unit holds a whole number of seeds, one or more.';
  return withProduct(lineup, id, { seedsPerUnit });
}

export function addPlacement(lineup: Lineup, id: string, rule: PlacementRule): EditedLineup {
  if (rule.reason.trim() === '') return 'A rule needs its reason.';
  const product = lineup.products.find((own) => own.id === id);
  return product ? withProduct(lineup, id, { placement: [...product.placement, rule] }) : NO_PRODUCT;
}

export function removePlacement(lineup: Lineup, id: string, k: number): EditedLineup {
  const product = lineup.products.find((own) => own.id === id);
  if (!product?.placement[k]) return 'There is no such rule.';
  return withProduct(lineup, id, { placement: product.placement.filter((_, own) => own !== k) });
}

const NO_PRODUCT = 'There is no such product in the lineup.';

/** The edited lineup as the document allows it, else what it would not allow. */
function withProduct(lineup: Lineup, id: string, change: Partial<Product>): EditedLineup {
  const before = lineup.products.find((product) => product.id === id);
  if (!before) return NO_PRODUCT;
  const after = { ...before, ...change };
  // Read by itself: the others are as they were.
  const { value, issues } = readLineup({ ...lineup, products: [after] }, 'lineup');
  if (value === null) return `${issues[0].found}: ${issues[0].expected}.`;
  return {
    ...lineup,
    products: lineup.products.map((product) => (product.id === id ? after : product)),
  };
}
