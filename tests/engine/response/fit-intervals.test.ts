import { describe, expect, it } from 'vitest';
import { fittedResponse } from '../../../src/engine/lineup/fitted-response.ts';
import { optimumInterval, yieldInterval } from '../../../src/engine/lineup/response-interval.ts';
import { random } from '../../../src/engine/math/random.ts';
import type { FamilyId } from '../../../src/engine/response/family.ts';
import { bestStandOf } from '../../../src/engine/response/fit/best-stand.ts';
import { bootstrapSites } from '../../../src/engine/response/fit/bootstrap-sites.ts';
import { curveInterval } from '../../../src/engine/response/fit/curve-interval.ts';
import { type FamilyFit, isRefused } from '../../../src/engine/response/fit/family-fit.ts';
import { fitFamily } from '../../../src/engine/response/fit/fit-family.ts';
import { influenceOf } from '../../../src/engine/response/fit/influence.ts';
import { profileInterval } from '../../../src/engine/response/fit/profile-interval.ts';
import type { Plots } from '../../../src/engine/response/plots.ts';
import { madeTrial, REFERENCE } from './made-trials.ts';

/** A product at ten sites, six stands, two plots each; best stand 33 thousand, rising 20 plants a bushel. `odd` adds to the yields of one site. */
function plots(odd = 0): Plots {
  const { normal } = random(11);
  const rows = Array.from({ length: 10 }, (_, site) => {
    const e = 150 + 10 * site;
    const off = 3 * normal();
    return [20, 24, 28, 32, 36, 40].flatMap((p) =>
      [0, 1].map(() => ({
        site,
        e,
        p,
        y:
          e -
          0.15 * (p - 33 - 0.02 * (e - 200)) ** 2 +
          off +
          5 * normal() +
          (site === 7 ? (odd * (p - 30)) / 10 : 0),
      })),
    );
  }).flat();
  return {
    stand_k: Float64Array.from(rows, (row) => row.p),
    yield_buPerAc: Float64Array.from(rows, (row) => row.y),
    site: Uint32Array.from(rows, (row) => row.site),
    environment_buPerAc: Float64Array.from(rows, (row) => row.e),
  };
}
function fitted(own: Plots): FamilyFit {
  const fit = fitFamily(own, 'quadratic', 200);
  if (isRefused(fit)) throw new Error(fit.refused);
  return fit;
}
const fit = fitted(plots());

describe('how sure a fitted curve is', () => {
  it.each([0, 0.8])(
    'by the profile of the likelihood, for a quadratic, is what Fieller says (r = %s)',
    (r) => {
      const profile = profileInterval(fit, bestStandOf('quadratic', 0, r));
      const fieller = optimumInterval(fittedResponse(fit), 200, r)!;
      expect(profile.value).toBeCloseTo(fieller.value, 6);
      // Level and stand on other ground are fitted again along the profile, and the level has fewer degrees of freedom in the lineup: a hundredth of the width.
      expect(Math.abs(profile.low - fieller.low)).toBeLessThan(0.01 * (fieller.high - fieller.low));
      expect(Math.abs(profile.high - fieller.high)).toBeLessThan(0.01 * (fieller.high - fieller.low));
    },
  );

  it.each<[FamilyId, readonly number[], number]>([
    ['density-decay', [200, 1, 33, 0.03, NaN], 0],
    ['density-decay', [200, 1, 33, 0.03, NaN], 0.8],
    ['parabolic-reciprocal', [200, 1, 33, 0.03, 0.8], 0],
    ['parabolic-reciprocal', [200, 1, 33, 0.03, 0.8], 0.8],
    ['holliday', [300, 1, 10, 0.01, NaN], 0.8],
  ])(
    'of %s by what the lineup keeps is that by the profile over its plots (%s, r = %s)',
    (family, truth, r) => {
      const found = fitFamily(madeTrial(family, truth, { seed: 820, sites: 20 }), family, REFERENCE);
      if (isRefused(found)) throw new Error(found.refused);
      const { min, max } = found.trial.tested_k;
      const profile = profileInterval(found, bestStandOf(family, 0, r));
      const tested = { min: 1000 * min, max: 1000 * max };
      const kept = optimumInterval(fittedResponse(found), REFERENCE, r, tested)!;
      // Of 400 made trials of 20 sites nine in ten lie within 0.012 of the width; by slopes within 0.004 to 0.066.
      const near = 0.012 * (profile.high - profile.low);
      expect(kept.value).toBeCloseTo(profile.value, 5);
      expect(Math.abs(kept.low - profile.low)).toBeLessThan(near);
      expect(Math.abs(kept.high - profile.high)).toBeLessThan(near);
    },
  );

  it('by drawing sites again is about as wide, the same for the same seed', () => {
    const figure = bestStandOf('quadratic', 0, 0);
    const drawn = bootstrapSites(fit, figure, { seed: 1, draws: 399 })!;
    const profile = profileInterval(fit, figure);
    const ratio = (drawn.high - drawn.low) / (profile.high - profile.low);
    // Ten sites say how sites vary to some 25 %.
    expect(ratio).toBeGreaterThan(0.5);
    expect(ratio).toBeLessThan(1.6);
    expect(bootstrapSites(fit, figure, { seed: 1, draws: 399 })).toEqual(drawn);
  });

  it('at a stand is much the same by the fit as by what the lineup keeps of it', () => {
    for (const [away, p] of [
      [0, 33],
      [-40, 24],
      [45, 40],
    ]) {
      const own = curveInterval(fit, away, p);
      const kept = yieldInterval(fittedResponse(fit), 200 + away, p)!;
      expect(own.value).toBeCloseTo(kept.value, 5);
      // The lineup has one number of degrees of freedom for both kinds of figures.
      expect((own.high - own.low) / (kept.high - kept.low)).toBeCloseTo(1, 1);
    }
  });

  it('says which site it hangs on', () => {
    const { site, cookOfSite, leverage } = influenceOf(fitted(plots(12)));
    expect(site[cookOfSite.indexOf(Math.max(...cookOfSite))]).toBe(7);
    const sum = leverage.reduce((all, own) => all + own, 0);
    // As many as figures fitted, and what sites take for themselves.
    expect(sum).toBeGreaterThan(4);
    expect(sum).toBeLessThan(120);
  });
});
