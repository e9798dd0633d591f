import type { Curve } from '../response/curve.ts';
import type { PlacementRule } from './placement-rule.ts';
import { curveOf, type ProductResponse, type ResponseFit } from './product-response.ts';

/** A seed treatment on offer with the product. What it does is the label's to say. */
export interface Treatment {
  readonly name: string;
  readonly pricePerUnit: number;
  readonly protectsAgainst: readonly string[];
}

/** A trait and the refuge its agreement asks for, as the label says: data, never a rule of ours. */
export interface Trait {
  readonly name: string;
  readonly refuge: {
    readonly share: number;
    readonly kind: 'blended' | 'separate';
    readonly note: string;
  } | null;
}

/** A note on a scale the lineup declares with its direction. What was not rated is not there. */
export interface Rating {
  readonly of: string;
  readonly value: number;
  readonly scale: string;
}

/** Lowest and highest note of a scale, and which of the two is the best. */
export interface RatingScale {
  readonly id: string;
  readonly lowest: number;
  readonly highest: number;
  readonly best: 'lowest' | 'highest';
}

/** Plots of a product in the trials, as the lineup keeps them: index into its sites, stand (null: not told), yield. */
export interface ProductPlots {
  readonly site: readonly number[];
  readonly stand_plantsPerAc: readonly (number | null)[];
  readonly yield_buPerAc: readonly number[];
}

export interface Product {
  readonly id: string;
  readonly name: string;
  readonly crop: string;
  /** Relative maturity (days or group), as the trade writes it. */
  readonly maturity: string;
  /** Growing degree days (86/50) from planting to black layer; null where not told. */
  readonly gddToMaturity: number | null;
  readonly seedsPerUnit: number;
  /** $; null where not told. */
  readonly pricePerUnit: number | null;
  readonly treatments: readonly Treatment[];
  readonly traits: readonly Trait[];
  readonly ratings: readonly Rating[];
  /** Plant height, leaf and ear, in words. */
  readonly stature: string;
  readonly notes: string;
  /** For the planter's meter: seed size, plates. */
  readonly meterNotes: string;
  readonly stewardshipNotes: string;
  /** Stands the trials covered, plants/ac; rates are not set outside them. Null where no trial varied the stand. */
  readonly tested_plantsPerAc: { readonly min: number; readonly max: number } | null;
  readonly response: ProductResponse | null;
  readonly fit: ResponseFit | null;
  readonly placement: readonly PlacementRule[];
  readonly plots: ProductPlots | null;
}

/** A product with all that a rate needs. */
export interface RatedProduct extends Product {
  readonly pricePerUnit: number;
  readonly tested_plantsPerAc: { readonly min: number; readonly max: number };
  readonly response: ProductResponse;
  /** The group of trials it stood in (`trialsInCommon`), of the whole lineup: products not in use join trials too. Left out where these products are all there are. */
  readonly trialGroup?: number;
}

export function isRated(product: Product): product is RatedProduct {
  return product.response !== null && product.tested_plantsPerAc !== null && product.pricePerUnit !== null;
}

/** The product's curve on ground of environment `environment_buPerAc`. */
export function curveAt({ response }: RatedProduct, environment_buPerAc: number): Curve {
  return curveOf(response, environment_buPerAc);
}
