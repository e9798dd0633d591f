import type { Plots } from '../plots.ts';
import { type StandTried, standsTried } from './stands-tried.ts';

/** The plots of one product that count in a fit, site by site. */
export interface Trial {
  readonly plots: number;
  /** 1000 plants/ac; bu/ac; bu/ac from the reference environment. */
  readonly p: Float64Array;
  readonly y: Float64Array;
  readonly away: Float64Array;
  /** Plots of site j are those from `start[j]` up to `start[j + 1]`. */
  readonly start: Uint32Array;
  readonly sites: number;
  readonly bySize: SitesBySize;
  /** The site's number as it was given. */
  readonly siteGiven: Uint32Array;
  /** Row of the plot as it was given. */
  readonly row: Uint32Array;
  readonly tested_k: { readonly min: number; readonly max: number };
  readonly tested_away: { readonly min: number; readonly max: number };
  /** Different stands, thinnest first. */
  readonly stands: readonly StandTried[];
  /** Different environments. */
  readonly environments: number;
  readonly leftOut: { readonly withoutStand: number; readonly withoutEnvironment: number };
}

/** Sites of as many plots: fits weigh them alike. */
export interface SitesBySize {
  /** Different numbers of plots of a site, and how many sites have them. */
  readonly plots: readonly number[];
  readonly sites: readonly number[];
  /** By site, its place among them. */
  readonly ofSite: Uint32Array;
}

/**
 * Plots without a stand or a yield do not count, nor do plots of a site whose environment is not known where that of others is. Where none is known all are at the reference.
 */
export function trialOf(plots: Plots, reference_buPerAc: number): Trial {
  const { stand_k, yield_buPerAc, site, environment_buPerAc } = plots;
  const known: number[] = [];
  let withoutStand = 0;
  let withoutEnvironment = 0;
  const anyEnvironment = environment_buPerAc.some((e) => !Number.isNaN(e));
  for (let i = 0; i < stand_k.length; i++) {
    if (!(stand_k[i] > 0 && stand_k[i] < Infinity) || !Number.isFinite(yield_buPerAc[i])) withoutStand++;
    else if (anyEnvironment && !Number.isFinite(environment_buPerAc[i])) withoutEnvironment++;
    else known.push(i);
  }
  // By site, within it as given: an order that does not hang on that of the sites.
  known.sort((a, b) => site[a] - site[b] || a - b);
  const row = Uint32Array.from(known);
  const start: number[] = [];
  for (let k = 0; k < row.length; k++) if (k === 0 || site[row[k]] !== site[row[k - 1]]) start.push(k);
  const p = Float64Array.from(row, (i) => stand_k[i]);
  const away = Float64Array.from(row, (i) =>
    anyEnvironment ? environment_buPerAc[i] - reference_buPerAc : 0,
  );
  const sorted = p.slice().sort();
  const grounds = away.slice().sort();
  const bounds = Uint32Array.from([...start, row.length]);
  return {
    plots: row.length,
    p,
    y: Float64Array.from(row, (i) => yield_buPerAc[i]),
    away,
    start: bounds,
    sites: start.length,
    bySize: sitesBySize(bounds),
    siteGiven: Uint32Array.from(start, (k) => site[row[k]]),
    row,
    tested_k: endsOf(sorted),
    tested_away: endsOf(grounds),
    stands: standsTried(sorted),
    environments: new Set(grounds).size,
    leftOut: { withoutStand, withoutEnvironment },
  };
}

function endsOf(sorted: Float64Array): { min: number; max: number } {
  return { min: sorted[0] ?? NaN, max: sorted[sorted.length - 1] ?? NaN };
}

/** `start` as in a trial. */
export function sitesBySize(start: Uint32Array): SitesBySize {
  const plots: number[] = [];
  const sites: number[] = [];
  const ofSite = new Uint32Array(start.length - 1);
  for (let j = 0; j < ofSite.length; j++) {
    const own = start[j + 1] - start[j];
    let at = plots.indexOf(own);
    if (at < 0) {
      at = plots.push(own) - 1;
      sites.push(0);
    }
    sites[at]++;
    ofSite[j] = at;
  }
  return { plots, sites, ofSite };
}
