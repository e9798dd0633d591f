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
  .map((line) => line.split(','))
  // A plot that was lost has no yield.
  .filter((row) => row[7] !== '');

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
    figures: [193.247752, 0.913631347, 30.2502414, 0.0203926949, 0.158608305],
    errors: [1.33437421, 0.0263394061, 0.257481046, 0.00498329587, 0.011210777],
    spreads: [3.43877878, 5.9530855],
    minusTwoLog: 967.051362,
  },
  {
    ...{ product: 'Wren 24', reference: 58, family: 'quadratic' },
    figures: [57.5714635, 0.873845771, 122.228726, -0.640212735, 0.00105418746],
    errors: [0.34198872, 0.0223516618, 2.05814047, 0.176358741, 0.000117369736],
    spreads: [0.633148924, 2.14411601],
    minusTwoLog: 657.597033,
  },
  {
    ...{ product: 'Sora 105', reference: 200, family: 'density-decay' },
    figures: [191.458565, 0.915550465, 28.0588867, 0.043712669],
    errors: [1.30169084, 0.0280957801, 0.359685043, 0.00815412927],
    spreads: [3.35673635, 6.91989848],
    minusTwoLog: 1010.09619,
  },
  {
    ...{ product: 'Sora 105', reference: 200, family: 'parabolic-reciprocal' },
    figures: [194.227709, 0.939950669, 28.7146552, 0.0273478396, 0.897612558],
    errors: [1.44178016, 0.0288947064, 0.261042419, 0.00577350288, 0.0742563071],
    spreads: [3.52627587, 6.58927838],
    minusTwoLog: 996.048084,
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
    [193.272443, 0.913325798, 30.1968644, 0.0207898455, 0.15776617],
    [0.824388228, 0.012626736, 0.293830706, 0.00562953018, 0.0126079237],
  ];
  // nls stops where a step would take away 1e-7 of the residuals: figures are then some millionths short.
  figures.forEach((own, k) => {
    expect(Math.abs(fit.figures[k] / own - 1)).toBeLessThan(2e-6);
  });
  standardErrors(fit).forEach((own, k) => {
    expect(Math.abs(own / errors[k] - 1)).toBeLessThan(2e-6);
  });
  expect(Math.abs(fit.plotSd_buPerAc - 6.71571666)).toBeLessThan(1e-7);
});
