import type { WorldDesign } from './true-world.ts';

/** Kinds of fields and of what is known of them. */
export const DESIGNS: readonly { readonly name: string; readonly of: Omit<WorldDesign, 'seed'> }[] = [
  { name: 'uneven ground, 80 sites, 8 years', of: uneven(80, 3, 8) },
  { name: 'uneven ground, 30 sites, 5 years', of: uneven(30, 3, 5) },
  { name: 'uneven ground, 10 sites, 4 years', of: uneven(10, 3, 4) },
  { name: 'uneven ground, 4 sites in 2 blocks, 2 years', of: uneven(4, 2, 2) },
  { name: 'uneven ground, products alike, 10 sites, 3 years', of: { ...uneven(10, 3, 3), alike: true } },
  {
    name: 'even ground, products alike, 10 sites, 3 years',
    of: { ...uneven(10, 3, 3), alike: true, groundSd: 3 },
  },
];

/** Fields of ground that spreads by 30 bu/ac, eight products that answer to it each in its own way. */
function uneven(sites: number, blocks: number, years: number): Omit<WorldDesign, 'seed'> {
  return { groundSd: 30, alike: false, products: 8, sites, blocks, years };
}
