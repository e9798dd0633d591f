import type { TrialTable } from '../engine/lineup/trial-table.ts';
import type { FitEvidence } from '../jobs/fit-evidence.ts';
import type { Pull } from '../jobs/what-decides.ts';

/** What a curve rests on, as the JSON of `fit` has it: plots in columns, in the order of the trials; figures no longer than they are known. */
export function evidenceJson(
  { sites, site, stand_plantsPerAc, yield_buPerAc, product }: TrialTable,
  evidence: FitEvidence,
) {
  const rows: number[] = [];
  for (let i = 0; i < product.length; i++) if (product[i] === evidence.product) rows.push(i);
  const { curve_buPerAc, residual_buPerAc, withinSite_buPerAc, leverage, cook } = evidence.plots;
  return {
    own_k: evidence.own_k,
    bootstrap_k: evidence.bootstrap_k,
    pullingSites: evidence.pullingSites.map(pullJson),
    pullingPlots: evidence.pullingPlots.map(pullJson),
    said: evidence.said,
    plots: {
      site: rows.map((i) => sites[site[i]].name),
      year: rows.map((i) => sites[site[i]].year),
      stand_plantsPerAc: rows.map((i) => rounded(stand_plantsPerAc[i], 0)),
      yield_buPerAc: rows.map((i) => rounded(yield_buPerAc[i], 2)),
      curve_buPerAc: Array.from(curve_buPerAc, (own) => rounded(own, 2)),
      residual_buPerAc: Array.from(residual_buPerAc, (own) => rounded(own, 2)),
      withinSite_buPerAc: Array.from(withinSite_buPerAc, (own) => rounded(own, 2)),
      leverage: Array.from(leverage, (own) => rounded(own, 4)),
      cook: Array.from(cook, (own) => rounded(own, 4)),
    },
  };
}

function pullJson({ name, cook, without, decides }: Pull) {
  return { name, cook: rounded(cook, 4), without, decides };
}

/** Null where not known. A distance beyond all others is written as it is known: not as a number. */
function rounded(value: number, digits: number): number | null {
  return Number.isFinite(value) ? Number(value.toFixed(digits)) + 0 : null;
}
