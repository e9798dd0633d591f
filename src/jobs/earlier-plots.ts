import type { Product, ProductPlots } from '../engine/lineup/product.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { plainCrop } from '../engine/math/crop-name.ts';
import { productKey } from '../formats/lineup/product-ids.ts';
import type { Lineup, LineupSite } from '../plan/lineup-schema.ts';
import { lineupTrials } from '../plan/lineup-trials.ts';

/** Plots a lineup kept before trials came in. Only those of the crops that came are at stake. */
export interface EarlierPlots {
  /** Crops that came, of which there were plots. */
  readonly crops: readonly string[];
  /** How many of these crops there were, all products together. */
  readonly plots: number;
  /** Products of these with a curve and without a plot in the new trials: if theirs go, the curve stays alone. */
  readonly untried: number;
  /** Crops of which no trials came; their plots, sites and curves stay as they are. */
  readonly otherCrops: readonly string[];
}

/** Crops of which the table has a plot. */
export function cropsTried({ products, product }: TrialTable): Set<string> {
  return new Set(Array.from(new Set(product), (p) => plainCrop(products[p].crop)));
}

export function earlierPlots(before: Lineup, trials: TrialTable): EarlierPlots {
  const came = cropsTried(trials);
  const tried = new Set(Array.from(new Set(trials.product), (p) => productKey(trials.products[p])));
  const had = before.products.filter((own) => plotsOf(own) !== null);
  const atStake = had.filter(({ crop }) => came.has(plainCrop(crop)));
  const others = had.filter(({ crop }) => !came.has(plainCrop(crop)));
  return {
    crops: cropsOf(atStake),
    plots: atStake.reduce((sum, own) => sum + (plotsOf(own)?.site.length ?? 0), 0),
    untried: atStake.filter((own) => own.response !== null && !tried.has(productKey(own))).length,
    otherCrops: cropsOf(others),
  };
}

/** The plots of some crops, as a trial table. */
export function trialsOfCrops(before: Lineup, crops: ReadonlySet<string>): TrialTable {
  return lineupTrials({
    ...before,
    products: before.products.filter(({ crop }) => crops.has(plainCrop(crop))),
  });
}

/**
 * A lineup made of trials of some crops, with what it left out of the one before: products of other crops keep their plots and sites; one of these crops without a plot now has lost those it had, and its fit
 * says so.
 */
export function withEarlierPlots(made: Lineup, before: Lineup, crops: ReadonlySet<string>): Lineup {
  const had = new Map(before.products.map((product) => [productKey(product), plotsOf(product)]));
  const sites: LineupSite[] = [...made.sites];
  const place = new Map<number, number>();
  const placeOf = (at: number): number => {
    const known = place.get(at) ?? sites.push(before.sites[at]) - 1;
    place.set(at, known);
    return known;
  };
  const products = made.products.map((product): Product => {
    const plots = had.get(productKey(product)) ?? null;
    if (product.plots !== null || plots === null) return product;
    if (crops.has(plainCrop(product.crop))) return letGo(product, plots.site.length);
    return { ...product, plots: { ...plots, site: plots.site.map(placeOf) } };
  });
  return { ...made, sites, products };
}

/** The curve is still the best there is to say of the product, but nobody can look at what it was drawn through. */
function letGo(product: Product, plots: number): Product {
  if (product.fit === null) return product;
  const went = plots === 1 ? 'Its plot was' : `Its ${plots} plots were`;
  const curve = product.response ? ' The curve stays as it was, with nothing behind it.' : '';
  const said = `${went} let go when other trials came in.${curve}`;
  return { ...product, fit: { ...product.fit, said: [...product.fit.said, said] } };
}

function plotsOf({ plots }: Product): ProductPlots | null {
  return plots !== null && plots.site.length > 0 ? plots : null;
}

function cropsOf(products: readonly Product[]): string[] {
  return [...new Set(products.map(({ crop }) => plainCrop(crop)))].sort();
}
