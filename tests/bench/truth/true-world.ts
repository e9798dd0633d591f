import { textureOf, type YieldAt } from '../../../sample-fields/generator/ground.ts';
import { type Random, random } from '../../../src/engine/math/random.ts';

/** A product as it truly is: a quadratic whose level and best stand follow the ground. Stands in 1000 plants/ac. */
export interface TrueProduct {
  readonly name: string;
  readonly level_buPerAc: number;
  readonly levelPerEnvironment: number;
  readonly best_k: number;
  readonly bestPerEnvironment_k: number;
  readonly bend: number;
  readonly pricePerUnit: number;
}

/** What differs from one made world to the other. */
export interface WorldDesign {
  readonly seed: number;
  /** Spread of the ground within the field, bu/ac. */
  readonly groundSd: number;
  /** Whether products answer alike to ground, so that none belongs on a part of it. */
  readonly alike: boolean;
  readonly products: number;
  readonly sites: number;
  readonly blocks: number;
  /** Yield maps of the field. */
  readonly years: number;
}

/** A field of 800 by 400 m, products and all that is known of both. */
export interface TrueWorld extends WorldDesign {
  readonly truth: readonly TrueProduct[];
  /** Expected yield of the ground, bu/ac, by metres from the middle of the field. */
  readonly ground: YieldAt;
  readonly harvests: readonly YieldAt[];
}

export const REFERENCE = 200;
export const HALF = { x: 400, y: 200 } as const;
export const STANDS_K = [22, 27, 32, 37, 42];
/** Spread of a product at a site around its curve, and of plots, as in published trials of corn (common practice, no source). */
export const SITE_SD = 3;
export const PLOT_SD = 7;

export function trueWorld(design: WorldDesign): TrueWorld {
  const stream = random(design.seed);
  const truth = Array.from({ length: design.products }, (_, k) => trueProduct(k, design, stream));
  const texture = (sd: number, shortest_m: number, longest_m: number) =>
    textureOf({ seed: stream.integer(2 ** 31), sd, shortest_m, longest_m });
  const lie = texture(design.groundSd, 300, 900);
  const base = 190 + 12 * stream.normal();
  const ground: YieldAt = (x, y) => base + lie(x, y);
  const harvests = Array.from({ length: design.years }, (): YieldAt => {
    const shift = 1 + 0.1 * stream.normal();
    const [season, fine] = [texture(10, 200, 700), texture(7, 20, 60)];
    return (x, y) => Math.max(20, shift * (ground(x, y) + season(x, y)) + fine(x, y));
  });
  return { ...design, truth, ground, harvests };
}

function trueProduct(k: number, { alike }: WorldDesign, stream: Random): TrueProduct {
  return {
    name: `Product ${k + 1}`,
    level_buPerAc: 200 + 4 * stream.normal(),
    levelPerEnvironment: alike ? 1 : 1 + 0.1 * stream.normal(),
    best_k: 33 + 1.5 * stream.normal(),
    bestPerEnvironment_k: alike ? 0 : 0.03 + 0.01 * stream.normal(),
    bend: 0.1 + 0.06 * stream.uniform(),
    pricePerUnit: 250 + 60 * stream.uniform(),
  };
}

export function trueYield(product: TrueProduct, environment: number, stand_k: number): number {
  const away = environment - REFERENCE;
  const off = stand_k - product.best_k - product.bestPerEnvironment_k * away;
  return product.level_buPerAc + product.levelPerEnvironment * away - product.bend * off * off;
}
