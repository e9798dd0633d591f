import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FamilyId } from '../../src/engine/response/family.ts';
import { type FamilyFit, isRefused } from '../../src/engine/response/fit/family-fit.ts';
import { FIGURES } from '../../src/engine/response/fit/figures.ts';
import { fitFamily } from '../../src/engine/response/fit/fit-family.ts';

const rows = readFileSync(join(import.meta.dirname, '../../sample-fields/trials.csv'), 'utf8')
  .trim()
  .split(/\r?\n/)
  .slice(1)
  .map((line) => line.split(','));

function fitOf(product: string, reference: number, family: FamilyId, sitesAlike = false): FamilyFit {
  const own = rows.filter((row) => row[0] === product);
  const sites = [...new Set(own.map((row) => row[3]))];
  const fit = fitFamily(
    {
      stand_k: Float64Array.from(own, (row) => Number(row[6]) / 1000),
      yield_buPerAc: Float64Array.from(own, (row) => Number(row[7])),
      site: Uint32Array.from(own, (row) => (sitesAlike ? 0 : sites.indexOf(row[3]))),
      environment_buPerAc: Float64Array.from(own, (row) => Number(row[5])),
    },
    family,
    reference,
  );
  if (isRefused(fit)) throw new Error(fit.refused);
  return fit;
}

function standardErrors({ covariance, fitted }: FamilyFit): number[] {
  return fitted.map((k) => Math.sqrt(covariance[k * FIGURES + k]));
}

/**
 * Figures, standard errors and spreads by restricted likelihood from lme4 1.1-31 (lmer for the curve as a plane at its figures, again until nothing moves: Lindstrom & Bates 1990, Biometrics 46:673), −2 log likelihood
 * in full from nlme 3.1-162 (quadratic) and lme4 (the others), on the sample trials by tests/reference/fits.R.
 */
const MIXED: readonly {
  product: string;
  reference: number;
  family: FamilyId;
  figures: readonly number[];
  errors: readonly number[];
  spreads: readonly [sites: number, plots: number];
  minusTwoLog: number;
}[] = [
  {
    ...{ product: 'Sora 105', reference: 200, family: 'quadratic' },
    figures: [193.022078, 0.957316069, 30.4604523, 0.0207097696, 0.151775821],
    errors: [1.08573947, 0.0197346725, 0.23244177, 0.0049720946, 0.0115535962],
    spreads: [3.20309804, 6.29112616],
    minusTwoLog: 1268.55688,
  },
  {
    ...{ product: 'Wren 24', reference: 58, family: 'quadratic' },
    figures: [57.2930715, 0.87882425, 127.203902, -0.974977603, 0.000868438498],
    errors: [0.298354643, 0.0218451113, 1.67571655, 0.155380568, 7.66863306e-5],
    spreads: [1.12053151, 1.95637246],
    minusTwoLog: 1133.54643,
  },
  {
    ...{ product: 'Sora 105', reference: 200, family: 'density-decay' },
    figures: [191.185405, 0.976324707, 29.5357502, 0.0313131584],
    errors: [0.973139339, 0.0201892573, 0.360757407, 0.00803620609],
    spreads: [3.08702555, 6.78263978],
    minusTwoLog: 1295.8188,
  },
  {
    ...{ product: 'Sora 105', reference: 200, family: 'parabolic-reciprocal' },
    figures: [192.744454, 0.984562415, 28.9675822, 0.0207665599, 0.672943026],
    errors: [1.12949918, 0.0206685841, 0.276525426, 0.00637922562, 0.0618592914],
    spreads: [3.155361, 6.68958707],
    minusTwoLog: 1290.32304,
  },
];

describe.each(MIXED)(
  'the $family of $product, sites being chance',
  ({ product, reference, family, figures, errors, spreads, minusTwoLog }) => {
    const fit = fitOf(product, reference, family);
    it('has the figures of lme4 and comes to rest', () => {
      expect(fit.converged).toBe(true);
      // Nine digits are printed; lmer finds the ratio of the variances to seven.
      figures.forEach((own, k) => {
        expect(Math.abs(fit.figures[k] / own - 1)).toBeLessThan(2e-8);
      });
    });
    it('is as sure of them, with the same spreads', () => {
      standardErrors(fit).forEach((own, k) => {
        expect(Math.abs(own / errors[k] - 1)).toBeLessThan(2e-7);
      });
      expect(Math.abs(fit.siteSd_buPerAc / spreads[0] - 1)).toBeLessThan(1e-6);
      expect(Math.abs(fit.plotSd_buPerAc / spreads[1] - 1)).toBeLessThan(1e-6);
    });
    it('is as likely', () => {
      // Printed to five decimals.
      expect(Math.abs(fit.minusTwoLogLikelihood - minusTwoLog)).toBeLessThan(2e-5);
    });
  },
);

it('the quadratic of Sora 105 without sites is that of nls', () => {
  const fit = fitOf('Sora 105', 200, 'quadratic', true);
  const [figures, errors] = [
    [192.959973, 0.957505954, 30.487093, 0.0213767238, 0.150191082],
    [0.77936755, 0.010913667, 0.26102798, 0.00556698449, 0.012809945],
  ];
  // nls stops where a step would take away 1e-7 of the residuals: figures are then some millionths short.
  figures.forEach((own, k) => {
    expect(Math.abs(fit.figures[k] / own - 1)).toBeLessThan(2e-6);
  });
  standardErrors(fit).forEach((own, k) => {
    expect(Math.abs(own / errors[k] - 1)).toBeLessThan(2e-6);
  });
  expect(Math.abs(fit.plotSd_buPerAc - 6.98469962)).toBeLessThan(1e-7);
});
