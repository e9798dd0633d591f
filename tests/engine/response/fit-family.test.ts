import { describe, expect, it } from 'vitest';
import { random } from '../../../src/engine/math/random.ts';
import { fitSeparable } from '../../../src/engine/math/separable-fit.ts';
import { FAMILIES } from '../../../src/engine/response/families.ts';
import type { FamilyId } from '../../../src/engine/response/family.ts';
import {
  chooseFamily,
  EVERY_FAMILY,
  ranked,
  tryFamilies,
} from '../../../src/engine/response/fit/choose-family.ts';
import { type FamilyFit, isRefused } from '../../../src/engine/response/fit/family-fit.ts';
import {
  BEND,
  LEVEL_PER_ENVIRONMENT,
  STAND,
  STAND_PER_ENVIRONMENT,
} from '../../../src/engine/response/fit/figures.ts';
import { fitFamily } from '../../../src/engine/response/fit/fit-family.ts';
import { trialOf } from '../../../src/engine/response/fit/trial.ts';
import type { Plots } from '../../../src/engine/response/plots.ts';
import { madeTrial, REFERENCE } from './made-trials.ts';

/** One site, no environment told. */
function atOneSite(stands: readonly number[], yields: readonly number[]): Plots {
  return {
    stand_k: Float64Array.from(stands),
    yield_buPerAc: Float64Array.from(yields),
    site: new Uint32Array(stands.length),
    environment_buPerAc: new Float64Array(stands.length).fill(NaN),
  };
}
function fitOf(plots: Plots, family: FamilyId): FamilyFit {
  const fit = fitFamily(plots, family, REFERENCE);
  if (isRefused(fit)) throw new Error(fit.refused);
  return fit;
}
const refusal = (plots: Plots, family: FamilyId) => {
  const fit = fitFamily(plots, family, REFERENCE);
  return isRefused(fit) ? fit.refused : null;
};
const STANDS = [20, 24, 28, 32, 36, 40];

/** Level 200, a bushel for a bushel, stand 33 rising 30 plants a bushel, and a bend. */
const TRUE: readonly (readonly [FamilyId, number[]])[] = [
  ['quadratic', [200, 1, 33, 0.03, 0.15]],
  ['quadratic-plateau', [200, 1, 33, 0.03, 0.25]],
  ['linear-plateau', [200, 1, 31, 0.03, 3]],
  ['density-decay', [200, 1, 33, 0.03, NaN]],
  ['parabolic-reciprocal', [200, 1, 33, 0.03, 0.8]],
  ['mitscherlich', [230, 1, 30, 0.03, 2]],
  ['holliday', [300, 1, 10, 0.01, NaN]],
];

describe.each(TRUE)('plots that lie on %s', (family, figures) => {
  it('give its figures back', () => {
    // A joint is found where the squares are least, which between two stands is known as sharply as the error of plots allows.
    const plots = madeTrial(family, figures, { seed: 3, sites: 12, siteSd: 0, plotSd: 1e-4 });
    const fit = fitOf(plots, family);
    for (const k of fit.fitted) {
      const scale = Math.max(Math.abs(figures[k]), 0.01);
      expect(Math.abs(fit.figures[k] - figures[k]) / scale).toBeLessThan(1e-3);
    }
    expect(fit.plotSd_buPerAc).toBeLessThan(2e-4);
  });
  it('are fitted best by it among all families', () => {
    const plots = madeTrial(family, figures, { seed: 4, sites: 12, siteSd: 1, plotSd: 1 });
    const trials = tryFamilies(trialOf(plots, REFERENCE));
    const own = ranked(trials).find((fit) => fit.family === family)!;
    // What climbs towards a level is at times as well told by what has its best stand beyond those tried.
    if (family === 'mitscherlich') expect(own.aicc - ranked(trials)[0].aicc).toBeLessThan(10);
    else expect(chooseFamily(trials)?.family).toBe(family);
  });
});

describe('a fit', () => {
  const plots = madeTrial('quadratic', [200, 1, 33, 0.03, 0.15], { seed: 9, sites: 7 });
  it('of one site is that of variable projection on orthogonal columns', () => {
    const { stand_k: p, yield_buPerAc: y } = madeTrial('parabolic-reciprocal', [200, 1, 33, 0, 0.8], {
      seed: 2,
      sites: 1,
    });
    const { unit } = FAMILIES['parabolic-reciprocal'];
    const known = fitSeparable({
      y,
      linear: 1,
      starts: [[30, 0.5]],
      basis: ([stand, bend], [share]) => {
        for (let i = 0; i < p.length; i++) share[i] = unit(p[i], stand, bend);
      },
    });
    const own = fitOf(atOneSite([...p], [...y]), 'parabolic-reciprocal');
    expect(own.figures[STAND] / known.nonlinear[0]).toBeCloseTo(1, 8);
    expect(own.figures[BEND] / known.nonlinear[1]).toBeCloseTo(1, 7);
    const s2 = known.rss / known.df;
    expect(own.plotSd_buPerAc ** 2 / s2).toBeCloseTo(1, 9);
    expect(own.covariance[STAND * 5 + STAND] / (s2 * known.unscaled[4])).toBeCloseTo(1, 5);
  });
  it('hangs neither on the order of plots nor on the numbers of sites', () => {
    const order = Array.from(plots.stand_k.keys()).reverse();
    const turned: Plots = {
      stand_k: Float64Array.from(order, (i) => plots.stand_k[i]),
      yield_buPerAc: Float64Array.from(order, (i) => plots.yield_buPerAc[i]),
      site: Uint32Array.from(order, (i) => 90 - 3 * plots.site[i]),
      environment_buPerAc: Float64Array.from(order, (i) => plots.environment_buPerAc[i]),
    };
    const [one, two] = [fitOf(plots, 'quadratic'), fitOf(turned, 'quadratic')];
    for (const k of one.fitted) expect(two.figures[k] / one.figures[k]).toBeCloseTo(1, 6);
  });
  it('does not count plots without a stand or a yield, and tells', () => {
    const stands = [...plots.stand_k, NaN, 30];
    const more: Plots = {
      stand_k: Float64Array.from(stands),
      yield_buPerAc: Float64Array.from([...plots.yield_buPerAc, 900, NaN]),
      site: Uint32Array.from([...plots.site, 0, 0]),
      environment_buPerAc: Float64Array.from([...plots.environment_buPerAc, 200, 200]),
    };
    const [one, two] = [fitOf(plots, 'quadratic'), fitOf(more, 'quadratic')];
    expect(two.figures).toEqual(one.figures);
    expect(two.doubts).toContain('2 plots are without a stand or a yield not counted.');
    expect(two.curve_buPerAc[stands.length - 1]).toBeNaN();
  });
  it('holds what too few sites tell, and says at what', () => {
    const two = madeTrial('quadratic', [200, 1, 33, 0.03, 0.15], { seed: 9, sites: 2 });
    const fit = fitOf(two, 'quadratic');
    expect(fit.fitted).not.toContain(LEVEL_PER_ENVIRONMENT);
    expect(fit.fitted).not.toContain(STAND_PER_ENVIRONMENT);
    expect([fit.figures[LEVEL_PER_ENVIRONMENT], fit.figures[STAND_PER_ENVIRONMENT]]).toEqual([1, 0]);
    expect(fit.doubts.join(' ')).toMatch(
      /level follows the ground is not fitted.*bushel for a bushel.*best stand/,
    );
    expect([fit.withinDf, fit.betweenDf]).toEqual([24 - 2 - 2, 1]);
  });
  it('of plots whose first steps lead far off finds its way back', () => {
    // Of 847 products of the bench, from its seed, two came out as plots without a bend before steps were cut.
    let refused = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const trial = madeTrial('quadratic', [190, 1, 33, 0.03, 0.14], {
        ...{ seed, sites: 6, stands_k: [22, 26, 30, 34, 38] },
      });
      if (refusal({ ...trial, site: new Uint32Array(trial.site.length) }, 'quadratic') !== null) refused++;
    }
    expect(refused).toBeLessThanOrEqual(1);
  });
});

describe('no curve is made of plots that show none', () => {
  it('under three stands', () => {
    const two = atOneSite([20, 20, 30, 30], [150, 155, 180, 178]);
    expect(refusal(two, 'quadratic')).toBe('2 stands were tried, a curve takes 3');
    expect(refusal(two, 'line')).toBeNull();
    expect(refusal(atOneSite([20, 20], [150, 151]), 'line')).toBe('1 stand was tried, a curve takes 2');
  });
  it('where near stands that count as one leave fewer', () => {
    const near = atOneSite([29.8, 30.1, 33, 29.8, 30.1, 33], [180, 182, 185, 181, 183, 186]);
    expect(refusal(near, 'quadratic')).toBe(
      '29,800 and 30,100 plants/ac count as one stand: 2 stands were tried, a curve takes 3',
    );
    expect(fitOf(near, 'line').doubts).toContain('29,800 and 30,100 plants/ac count as one stand.');
    const several = atOneSite([20, 20.4, 20.9, 30, 31], [180, 182, 185, 181, 183]);
    expect(refusal(several, 'quadratic')).toMatch(
      /^20,000 to 20,900 as well as 30,000 and 31,000 plants\/ac count as one stand each: 2 stands/,
    );
    // Three that are told apart show a curve, whatever else counts as one.
    const enough = atOneSite([20, 20.4, 25, 30, 20, 20.4, 25, 30], [150, 153, 171, 176, 151, 152, 170, 177]);
    expect(fitOf(enough, 'line').doubts.join(' ')).not.toContain('as one stand');
  });
  it('where all yields are the same', () => {
    expect(
      refusal(
        atOneSite(
          STANDS,
          STANDS.map(() => 180),
        ),
        'quadratic',
      ),
    ).toBe('all yields are the same, 180 bu/ac');
    expect(
      chooseFamily(
        tryFamilies(
          trialOf(
            atOneSite(
              STANDS,
              STANDS.map(() => 180),
            ),
            200,
          ),
        ),
      ),
    ).toBeNull();
  });
  it('where yield bends upwards: a straight line, best at the better end, is what is left', () => {
    const yields = STANDS.map((p) => 100 + 0.1 * (p - 18) ** 2);
    const plots = atOneSite([...STANDS, ...STANDS], [...yields, ...yields.map((y, k) => y + (k % 2) - 0.5)]);
    expect(refusal(plots, 'quadratic')).toBe('yield bends upwards, so it has no best stand');
    const choice = chooseFamily(tryFamilies(trialOf(plots, REFERENCE)));
    expect(choice?.family).toBe('line');
    expect(choice?.said).toMatch(/none as well as a straight line; the quadratic: yield bends upwards/);
    expect(fitOf(plots, 'line').doubts.join(' ')).toMatch(
      /so there is no best stand: thicker yielded more, as far as tried \(20,000 to 40,000 plants\/ac\)/,
    );
  });
  it('where there are hardly more plots than figures', () => {
    expect(refusal(atOneSite([20, 28, 36], [170, 190, 180]), 'quadratic')).toMatch(
      /3 plots are too few for 3 figures/,
    );
  });
  it('of nothing', () => {
    for (const family of EVERY_FAMILY)
      expect(refusal(atOneSite([], []), family)).toBe('no plot has both a stand and a yield');
  });
});

it('whatever the plots, each family is fitted by numbers or refused in words', () => {
  const { uniform, normal, integer } = random(77);
  let fitted = 0;
  for (let round = 0; round < 150; round++) {
    const n = 1 + integer(24);
    const wild = integer(4);
    const plots: Plots = {
      stand_k: Float64Array.from({ length: n }, () =>
        wild === 0 ? 10 ** (8 * uniform() - 4) : wild === 1 ? 20 + 5 * integer(4) : 15 + 30 * uniform(),
      ),
      yield_buPerAc: Float64Array.from({ length: n }, () =>
        wild === 2 ? integer(2) * 100 : wild === 3 ? 10 ** (6 * uniform()) : 180 + 20 * normal(),
      ),
      site: Uint32Array.from({ length: n }, () => integer(5)),
      environment_buPerAc: Float64Array.from({ length: n }, () => (integer(8) ? 100 + 20 * integer(9) : NaN)),
    };
    for (const family of EVERY_FAMILY) {
      const fit = fitFamily(plots, family, 180);
      if (isRefused(fit)) {
        expect(fit.refused.length).toBeGreaterThan(10);
        continue;
      }
      fitted++;
      expect(fit.fitted.every((k) => Number.isFinite(fit.figures[k]))).toBe(true);
      expect(fit.covariance.every(Number.isFinite)).toBe(true);
      expect(Number.isFinite(fit.plotSd_buPerAc + fit.siteSd_buPerAc)).toBe(true);
    }
  }
  expect(fitted).toBeGreaterThan(200);
});
