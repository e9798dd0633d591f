import type { Issue } from '../issue.ts';
import { sameCrop } from '../math/crop-name.ts';
import type { FamilyId } from '../response/family.ts';
import { type FamilyTrials, tryFamilies } from '../response/fit/choose-family.ts';
import { STAND } from '../response/fit/figures.ts';
import { trialOf } from '../response/fit/trial.ts';
import { withUnseen } from '../response/fit/unseen.ts';
import type { Plots } from '../response/plots.ts';
import { familyOfCrop, familyOfProduct, varianceOfChoice } from './choose-together.ts';
import { drawTogether } from './draw-together.ts';
import { fitIssues } from './fit-issues.ts';
import { type CropCurve, fitProduct, ownFit } from './fit-product.ts';
import { betweenSitesOf, unsureElsewhere } from './one-site.ts';
import type { ProductPlots } from './product.ts';
import type { ProductResponse, ResponseFit } from './product-response.ts';
import { siteEnvironments } from './site-environments.ts';
import type { TrialTable } from './trial-table.ts';

export interface FitLineupOptions {
  /** Environment the figures are given at, bu/ac; null takes the middle of the sites. */
  readonly reference_buPerAc?: number | null;
  /** Families to choose among; all where not said. */
  readonly families?: readonly FamilyId[];
  /** Whether poorly tested products lean on their group. */
  readonly lean?: boolean;
  /** Share done, 0–1; may throw to stop. */
  readonly onProgress?: (share: number) => void;
}

/** A product of the table with what its trials tell. */
export interface FittedProduct {
  readonly product: number;
  readonly response: ProductResponse | null;
  readonly tested_plantsPerAc: { readonly min: number; readonly max: number } | null;
  /** Different stands among its plots; near ones are one. */
  readonly stands: number;
  readonly fit: ResponseFit;
  readonly plots: ProductPlots;
}

export interface FittedLineup {
  readonly reference_buPerAc: number;
  /** By site of the table, bu/ac; NaN for sites without a plot of the crop. */
  readonly environment_buPerAc: Float64Array;
  readonly family: FamilyId | null;
  readonly products: readonly FittedProduct[];
  readonly said: readonly string[];
  readonly issues: readonly Issue[];
}

/**
 * The responses of all products of a crop from its trials: environments of the sites, a family for the crop, a curve for each product, and the poorly tested drawn towards the others. Products in the order of the table;
 * deterministic.
 */
export function fitLineup(table: TrialTable, crop: string, options: FitLineupOptions = {}): FittedLineup {
  const { families, lean = true, onProgress } = options;
  const ground = siteEnvironments(table, crop);
  const { environment_buPerAc } = ground;
  const reference_buPerAc = options.reference_buPerAc ?? middleOf(environment_buPerAc);
  const rowsOf = rowsByProduct(table);
  const members = table.products.flatMap(({ crop: own }, product) => {
    const rows = rowsOf[product];
    return sameCrop(own, crop) && rows.length > 0
      ? [{ product, rows, plots: plotsOf(table, rows, environment_buPerAc) }]
      : [];
  });
  const counted = members.map(({ plots }) => trialOf(plots, reference_buPerAc));
  const trials = counted.map((trial, k): FamilyTrials => {
    onProgress?.((0.8 * k) / members.length);
    return tryFamilies(trial, families);
  });
  const chosen = familyOfCrop(trials);
  const family = chosen?.family ?? null;
  const choices = trials.map((own) => familyOfProduct(own, family));
  const own = members.map(({ rows }, k) => {
    onProgress?.(0.8 + (0.1 * k) / members.length);
    const fit = ownFit(trials[k], choices[k], reference_buPerAc, rows.length);
    return fit && chosen && fit.family === family
      ? withUnseen(fit, { figure: STAND, variance: varianceOfChoice(trials[k], chosen) })
      : fit;
  });
  const sites = members.map(({ rows }) => new Set(rows.map((i) => table.site[i])).size);
  const betweenSites = betweenSitesOf(own.flatMap((fit, k) => (fit && sites[k] > 1 ? [fit] : [])));
  const fits = own.map((fit, k) => (fit && sites[k] === 1 ? unsureElsewhere(fit, betweenSites) : fit));
  const alike = fits.filter((fit) => fit !== null && fit.family === family);
  const together = lean && family !== null ? drawTogether(alike.filter((fit) => fit !== null)) : null;
  const group = together?.group ?? null;
  const ofCrop: CropCurve | null = group && family !== null ? { family, group } : null;
  const products = members.map(({ product, rows, plots }, k): FittedProduct => {
    onProgress?.(0.9 + (0.1 * k) / members.length);
    const { response, runnerUp, leaning, said } = fitProduct(
      plots,
      trials[k],
      choices[k],
      fits[k],
      ofCrop,
      reference_buPerAc,
      together?.drawn[alike.indexOf(fits[k])] ?? null,
      sites[k] === 1 ? betweenSites.variance : 0,
    );
    return {
      product,
      response,
      tested_plantsPerAc: testedOf(plots),
      stands: counted[k].stands.length,
      fit: {
        plots: rows.length,
        sites: sites[k],
        runnerUp,
        leaning,
        said,
      },
      plots: {
        site: rows.map((i) => table.site[i]),
        stand_plantsPerAc: rows.map((i) =>
          Number.isNaN(table.stand_plantsPerAc[i]) ? null : Math.round(table.stand_plantsPerAc[i]),
        ),
        yield_buPerAc: rows.map((i) => Number(table.yield_buPerAc[i].toFixed(2))),
      },
    };
  });
  onProgress?.(1);
  return {
    ...{ reference_buPerAc, environment_buPerAc, family, products },
    said: [...ground.said, ...(ofCrop ? [leaningSaid(ofCrop)] : [])],
    issues: [...ground.issues, ...fitIssues(products, table)],
  };
}

function rowsByProduct({ products, product }: TrialTable): number[][] {
  const rows: number[][] = products.map(() => []);
  for (let i = 0; i < product.length; i++) rows[product[i]].push(i);
  return rows;
}

/** With a single site its blocks take the place of sites. */
function plotsOf(table: TrialTable, rows: readonly number[], environments: ArrayLike<number>): Plots {
  const oneSite = rows.every((i) => table.site[i] === table.site[rows[0]]);
  const site = oneSite ? table.block : table.site;
  return {
    stand_k: Float64Array.from(rows, (i) => table.stand_plantsPerAc[i] / 1000),
    yield_buPerAc: Float64Array.from(rows, (i) => table.yield_buPerAc[i]),
    site: Uint32Array.from(rows, (i) => site[i]),
    environment_buPerAc: Float64Array.from(rows, (i) => environments[table.site[i]]),
  };
}

/** The middle environment of the sites, to the bushel. */
function middleOf(environments: Float64Array): number {
  const known = environments.filter((own) => !Number.isNaN(own)).sort();
  return known.length === 0 ? NaN : Math.max(1, Math.round(known[known.length >> 1]));
}

function testedOf({ stand_k }: Plots): FittedProduct['tested_plantsPerAc'] {
  const known = stand_k.filter((own) => own > 0).sort();
  const [min, max] = [1000 * known[0], 1000 * known[known.length - 1]].map(Math.round);
  return known.length > 0 && min < max ? { min, max } : null;
}

function leaningSaid({ group }: CropCurve): string {
  return `Products of which little is known lean on the ${group.products} that have a curve of their own (empirical Bayes).`;
}
