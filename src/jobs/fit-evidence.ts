import type { FittedLineup, FittedProduct } from '../engine/lineup/fit-lineup.ts';
import { curveOf } from '../engine/lineup/product-response.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { yieldAt } from '../engine/response/curve.ts';
import { bestStandOf } from '../engine/response/fit/best-stand.ts';
import { bootstrapSites } from '../engine/response/fit/bootstrap-sites.ts';
import type { Interval } from '../engine/response/fit/curve-interval.ts';
import { isRefused } from '../engine/response/fit/family-fit.ts';
import { fitFamily } from '../engine/response/fit/fit-family.ts';
import { influenceOf } from '../engine/response/fit/influence.ts';
import { profileInterval } from '../engine/response/fit/profile-interval.ts';
import type { Plots } from '../engine/response/plots.ts';
import { decidedBy, type Pull, pullOf } from './what-decides.ts';

/** Sites and plots that are left out in turn: those the figures hang on most. */
const TAKEN_OUT = 3;
const SEED = 1;

/** Plot by plot as the lineup keeps them; NaN where not known. */
export interface PlotEvidence {
  /** Yield by the curve of the lineup, what the plot yields over it, and what of that is not its site's. */
  readonly curve_buPerAc: Float64Array;
  readonly residual_buPerAc: Float64Array;
  readonly withinSite_buPerAc: Float64Array;
  readonly leverage: Float64Array;
  readonly cook: Float64Array;
}

export interface FitEvidence {
  /** Index into the products of the trials. */
  readonly product: number;
  readonly plots: PlotEvidence;
  /** Best stand by the product's own plots, with its profile interval; null where they show none. */
  readonly own_k: Interval | null;
  /** By drawing sites again; null where not asked for, and under four sites. */
  readonly bootstrap_k: Interval | null;
  readonly pullingSites: readonly Pull[];
  readonly pullingPlots: readonly Pull[];
  /** One sentence where a single site or plot decides the answer. */
  readonly said: readonly string[];
}

export interface EvidenceRequest {
  readonly bootstrap: boolean;
  /** Called before each product; may throw to stop. */
  readonly onProduct?: (share: number) => void;
}

/**
 * What each curve of a fitted lineup rests on. The product's own plots are fitted again by the family it has, before it is drawn towards its group; environments of the sites stay as they were. What is left out is left
 * out in full: the fit is made again without it.
 */
export function fitEvidence(
  table: TrialTable,
  fitted: FittedLineup,
  { bootstrap, onProduct }: EvidenceRequest,
): FitEvidence[] {
  const rows: number[][] = table.products.map(() => []);
  for (const [i, product] of table.product.entries()) rows[product].push(i);
  return fitted.products.map((own, k) => {
    onProduct?.(k / fitted.products.length);
    return curveEvidence(table, fitted, own, rows[own.product], bootstrap);
  });
}

/** The same of one curve; `rows` are those of its product. */
export function curveEvidence(
  table: TrialTable,
  { reference_buPerAc, environment_buPerAc }: Pick<FittedLineup, 'reference_buPerAc' | 'environment_buPerAc'>,
  { product, response }: Pick<FittedProduct, 'product' | 'response'>,
  rows: readonly number[],
  bootstrap: boolean,
): FitEvidence {
  const blocks = rows.every((i) => table.site[i] === table.site[rows[0]]);
  const plots: Plots = {
    stand_k: Float64Array.from(rows, (i) => table.stand_plantsPerAc[i] / 1000),
    yield_buPerAc: Float64Array.from(rows, (i) => table.yield_buPerAc[i]),
    // With a single site its blocks take the place of sites, as in the fit.
    site: Uint32Array.from(rows, (i) => (blocks ? table.block[i] : table.site[i])),
    environment_buPerAc: Float64Array.from(rows, (i) => environment_buPerAc[table.site[i]]),
  };
  const curve_buPerAc = Float64Array.from(rows, (_, k) =>
    response === null ? NaN : yieldAt(curveOf(response, plots.environment_buPerAc[k]), plots.stand_k[k]),
  );
  const residual_buPerAc = curve_buPerAc.map((curve, k) => plots.yield_buPerAc[k] - curve);
  const unknown = new Float64Array(rows.length).fill(NaN);
  const left = {
    curve_buPerAc,
    residual_buPerAc,
    withinSite_buPerAc: lessMeans(residual_buPerAc, plots.site),
  };
  const fit = response && fitFamily(plots, response.family, reference_buPerAc);
  if (fit === null || isRefused(fit))
    return {
      ...{ product, own_k: null, bootstrap_k: null, pullingSites: [], pullingPlots: [], said: [] },
      plots: { ...left, leverage: unknown, cook: unknown },
    };
  const { leverage, cook, site, cookOfSite } = influenceOf(fit);
  const best = bestStandOf(fit.family, 0, 0);
  const pull = pullOf(plots, fit);
  const siteName = (own: number) => {
    const { name, year } = table.sites[blocks ? table.site[rows[0]] : own];
    const place = [name, year ?? ''].filter((word) => word !== '').join(' ') || 'the site';
    return blocks && site.length > 1 ? `block ${own + 1} of ${place}` : place;
  };
  const plotName = (k: number) =>
    `the plot of ${plots.stand_k[k].toFixed(1)}k at ${siteName(plots.site[k])} (${plots.yield_buPerAc[k].toFixed(1)} bu/ac)`;
  // Without its only site nothing is left.
  const pullingSites = (site.length > 1 ? most(cookOfSite) : []).map((j) =>
    pull(siteName(site[j]), cookOfSite[j], (k) => plots.site[k] !== site[j]),
  );
  const pullingPlots = most(cook).map((own) => pull(plotName(own), cook[own], (k) => k !== own));
  // The best end of a straight line is no best stand.
  const shown = fit.family !== 'line' && Number.isFinite(best(fit.figures));
  return {
    product,
    plots: { ...left, leverage, cook },
    own_k: shown ? profileInterval(fit, best) : null,
    bootstrap_k: bootstrap && shown ? bootstrapSites(fit, best, { seed: SEED }) : null,
    ...{ pullingSites, pullingPlots },
    said: decidedBy([...pullingSites, ...pullingPlots], fit),
  };
}

/** Indices of the greatest, greatest first. */
function most(values: Float64Array): number[] {
  return Array.from(values.keys())
    .filter((k) => !Number.isNaN(values[k]))
    .sort((a, b) => (values[a] === values[b] ? a - b : values[b] - values[a]))
    .slice(0, TAKEN_OUT);
}

/** Less the mean of its site, over what is known. */
function lessMeans(values: Float64Array, site: Uint32Array): Float64Array {
  const sum = new Map<number, readonly [number, number]>();
  for (const [k, value] of values.entries()) {
    if (Number.isNaN(value)) continue;
    const [total, count] = sum.get(site[k]) ?? [0, 0];
    sum.set(site[k], [total + value, count + 1]);
  }
  return values.map((value, k) => {
    const own = sum.get(site[k]);
    return own ? value - own[0] / own[1] : NaN;
  });
}
