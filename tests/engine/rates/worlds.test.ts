import { describe, expect, it } from 'vitest';
import { drawWorlds } from '../../../src/engine/rates/worlds.ts';
import { product } from '../lineup/small-lineup.ts';
import { money, sureGround, unsure } from './small-doubt.ts';

const COUNT = 20_000;
/** Four standard errors of a standard deviation of so many draws, as a share of it. */
const NEAR = 4 / Math.sqrt(2 * COUNT);

const sdOf = (values: Float64Array) => {
  const mean = values.reduce((sum, own) => sum + own, 0) / values.length;
  return Math.sqrt(values.reduce((sum, own) => sum + (own - mean) ** 2, 0) / values.length);
};
const figure = (figures: Float64Array, k: number) => figures.filter((_, at) => at % 5 === k);

describe('worlds', () => {
  it('draw the figures of a product by their covariance, stands by the thousand', () => {
    // Level and stand go along with each other: 3 bu/ac, 2000 plants/ac, correlation a half.
    const covariance = [9, 0, 0, 3000, 0, 4e6, 0, 0, 0, 0, 0, 0, 0, 0, 0];
    const own = product({
      response: { uncertainty: { covariance, df: 1e9, plotSd_buPerAc: 5, siteSd_buPerAc: 3 } },
    });
    const { figures } = drawWorlds([own], [10], sureGround(1), money, 0, COUNT, 1);
    const [level, slope, stand] = [0, 1, 2].map((k) => figure(figures[0]!, k));
    expect(Math.abs(sdOf(level) / 3 - 1)).toBeLessThan(NEAR);
    expect(Math.abs(sdOf(stand) / 2 - 1)).toBeLessThan(NEAR);
    expect(slope.every((value) => value === 0)).toBe(true);
    const together = level.reduce((sum, value, world) => sum + value * stand[world], 0) / COUNT;
    expect(together / 6).toBeCloseTo(0.5, 1);
  });

  it('draw wider of figures with few degrees of freedom, as Student’s t does', () => {
    const { figures } = drawWorlds([unsure(1, {}, 4)], [10], sureGround(1), money, 0, COUNT, 1);
    const level = figure(figures[0]!, 0).sort();
    // R 4.2.2: qt(.95, 4) = 2.131847; four standard errors of a quantile with the density dt(2.131847, 4) = 0.05622510.
    const near = (4 * Math.sqrt((0.05 * 0.95) / COUNT)) / 0.0562251;
    expect(Math.abs(level[Math.round(0.95 * COUNT)] - 2.131847)).toBeLessThan(near);
  });

  it('draw nothing for a product of which nobody says how sure it is', () => {
    expect(drawWorlds([product()], [10], sureGround(1), money, 0, 100, 1).figures).toEqual([null]);
    const noDegrees = unsure(1, {}, 0);
    expect(drawWorlds([noDegrees], [10], sureGround(1), money, 0, 100, 1).figures).toEqual([null]);
  });

  it('move zones about the level of the field, and the field with its level', () => {
    const area = [30, 10];
    const doubt = { levelSd_buPerAc: 0, zoneSd_buPerAc: [6, 6] };
    const { ground_buPerAc: zones } = drawWorlds([], area, doubt, money, 0, 500, 1);
    zones[0].forEach((own, world) => {
      expect(30 * own + 10 * zones[1][world]).toBeCloseTo(0, 9);
    });
    const level = { levelSd_buPerAc: 20, zoneSd_buPerAc: [0, 0] };
    const { ground_buPerAc: whole } = drawWorlds([], area, level, money, 0, COUNT, 1);
    expect(whole[0]).toEqual(whole[1]);
    expect(Math.abs(sdOf(whole[0]) / 20 - 1)).toBeLessThan(NEAR);
  });

  it('draw prices about the plan’s, never under what drying and hauling take from nothing', () => {
    const dear = { ...money, dryingHauling_perBu: 0.5 };
    const { netPrice_perBu: net } = drawWorlds([], [1], sureGround(1), dear, 0.2, COUNT, 1);
    const mean = net.reduce((sum, own) => sum + own, 0) / COUNT;
    // Four standard errors of the mean.
    expect(Math.abs(mean - 3.5)).toBeLessThan((4 * 0.2 * 4) / Math.sqrt(COUNT));
    expect(Math.min(...net)).toBeGreaterThan(-0.5);
    const fixed = drawWorlds([], [1], sureGround(1), dear, 0, 5, 1).netPrice_perBu;
    expect([...fixed]).toEqual([3.5, 3.5, 3.5, 3.5, 3.5]);
  });

  it('are the same for the same seed, and others for another', () => {
    const draw = (seed: number) => drawWorlds([unsure(2)], [1], sureGround(1), money, 0.1, 50, seed);
    expect(draw(3)).toEqual(draw(3));
    expect(draw(3)).not.toEqual(draw(4));
  });
});
