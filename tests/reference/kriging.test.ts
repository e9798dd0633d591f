import { describe, expect, it } from 'vitest';
import { layOutGrid } from '../../src/engine/grid/lay-out-grid.ts';
import { fitVariogram } from '../../src/engine/layers/fit-variogram.ts';
import { inverseDistance } from '../../src/engine/layers/inverse-distance.ts';
import { krigeAt } from '../../src/engine/layers/kriging.ts';
import { empiricalVariogram } from '../../src/engine/layers/variogram.ts';
import type { VariogramModel } from '../../src/engine/layers/variogram-model.ts';
import { meuse, meuseGrid } from './meuse.ts';

const logZinc = meuse.zinc.map(Math.log);
const spherical: VariogramModel = {
  family: 'spherical',
  nugget: 0.05066242682,
  psill: 0.59060780221,
  range_m: 897.0209098,
};
const all = { radius_m: Infinity, most: 155, least: 1, block_m: 0 };

/** Six places of the plain, two of them at its edge. */
const places = {
  x: Float64Array.of(181170, 180310, 180205, 178673, 178770, 178270),
  y: Float64Array.of(333250, 332189, 331707, 330066, 330675, 331075),
};

/** gstat's figures are printed to 12 digits; both sides solve the same well-conditioned equations, so they part by rounding. */
const ROUNDING = 1e-9;

/** Of blocks: seen to part by 1e-8 in estimates and 5e-7 in variances, as a quadrature with nodes cut to fewer digits would. A regular 4 × 4 parts by 1e-2. */
const QUADRATURE = { estimate: 2e-8, variance: 1e-6 };

function expectClose(found: ArrayLike<number>, wanted: readonly number[], share: number) {
  expect(found.length).toBe(wanted.length);
  wanted.forEach((value, k) => {
    expect(Math.abs(found[k] / value - 1), `figure ${k}: ${found[k]} for ${value}`).toBeLessThan(share);
  });
}

/** Values printed by tests/reference/meuse.R: R 4.2.2, gstat 2.1.0, sp 1.6.0. */
describe('the variogram of log zinc on the Meuse', () => {
  const empirical = empiricalVariogram(meuse.x, meuse.y, logZinc);
  const { lags } = empirical;

  it('has the lags of gstat', () => {
    const pairs = [57, 299, 419, 457, 547, 533, 574, 564, 589, 543, 500, 477, 452, 457, 415];
    expect(lags.map((lag) => lag.pairs)).toEqual(pairs);
    const distances = [
      ...[79.2924374558, 163.973665559, 267.36482767, 372.735422391, 478.476695047, 585.340581095],
      ...[693.145255542, 796.183648851, 903.1464983, 1011.29177339, 1117.86234552, 1221.32809877],
      ...[1329.16406507, 1437.25620328, 1543.202482],
    ];
    const gammas = [
      ...[0.123447934906, 0.216218485297, 0.302785875595, 0.412144760382, 0.463412786178],
      ...[0.564693270655, 0.568968263208, 0.618676858688, 0.647147887486, 0.691570488112],
      ...[0.703398350536, 0.603877036499, 0.651715776235, 0.566531778306, 0.574822734068],
    ];
    expectClose(
      lags.map(({ distance_m }) => distance_m),
      distances,
      ROUNDING,
    );
    expectClose(
      lags.map(({ gamma }) => gamma),
      gammas,
      ROUNDING,
    );
  });

  // gstat ends its iterations once they gain little: from two starts its range differs by 0.02 m in 897, its nugget by 5e-5 of itself.
  it.each([
    {
      k: 0,
      family: 'spherical',
      nugget: 0.0506624268192,
      psill: 0.59060780221,
      range: 897.020909797,
      sse: 9.01119439893e-6,
    },
    {
      k: 1,
      family: 'exponential',
      nugget: 0,
      psill: 0.71865258039,
      range: 449.758002536,
      sse: 1.62832753721e-5,
    },
  ])(
    'is fitted by the $family model of gstat, or a shade closer',
    ({ k, family, nugget, psill, range, sse }) => {
      const found = fitVariogram(empirical).tried[k];
      expect(found.model.family).toBe(family);
      expect(Math.abs(found.model.nugget - nugget)).toBeLessThan(5e-6);
      expectClose([found.model.psill, found.model.range_m], [psill, range], 5e-5);
      expectClose([found.sse], [sse], 1e-7);
      expect(found.sse).toBeLessThanOrEqual(sse * (1 + 1e-11));
    },
  );

  it('is spherical rather than exponential', () => {
    const { best, tried, reason } = fitVariogram(empirical);
    expect(best).toBe(tried[0]);
    expect(best?.rangeAtLimit).toBe(false);
    expect(reason).toBeNull();
  });
});

/** Values printed by tests/reference/meuse.R: R 4.2.2, gstat 2.1.0, sp 1.6.0. */
describe('kriging of the Meuse', () => {
  it('gives gstat’s log zinc at six places from all points', () => {
    const { values, se } = krigeAt(places.x, places.y, meuse.x, meuse.y, logZinc, spherical, all);
    expectClose(
      values,
      [5.57436664236, 6.42179937226, 5.59200782289, 6.16429741171, 6.40771122286, 6.15034527083],
      ROUNDING,
    );
    expectClose(
      se.map((each) => each * each),
      [0.137270593533, 0.123283595535, 0.144353815301, 0.34342470329, 0.144258808375, 0.663402554363],
      ROUNDING,
    );
  });

  it('gives gstat’s surface of 3,103 cells', () => {
    const points = [meuse.x, meuse.y, logZinc] as const;
    const { values, se, support } = krigeAt(meuseGrid.x, meuseGrid.y, ...points, spherical, all);
    expect(values.length).toBe(3103);
    expect(support.every((points) => points === 155)).toBe(true);
    expectClose(summary(values), [4.77655472546, 5.70722872265, 7.43999106989], ROUNDING);
    const variance = se.map((each) => each * each);
    expectClose(summary(variance), [0.0854948994222, 0.18533193287, 0.500275634773], ROUNDING);
    expectClose([values[0], variance[0]], [6.49962408413, 0.319808388557], ROUNDING);
  });

  it('is off at points left out as gstat is', () => {
    const residual = new Float64Array(155);
    const score = new Float64Array(155);
    for (let i = 0; i < 155; i++) {
      const others = logZinc.map((value, k) => (k === i ? NaN : value));
      const at = [meuse.x.subarray(i, i + 1), meuse.y.subarray(i, i + 1)] as const;
      const { values, se, support } = krigeAt(...at, meuse.x, meuse.y, others, spherical, all);
      expect(support[0]).toBe(154);
      residual[i] = logZinc[i] - values[0];
      score[i] = residual[i] / se[0];
    }
    const meanOf = (figures: Float64Array) => figures.reduce((sum, each) => sum + each, 0) / 155;
    const square = (figure: number) => figure * figure;
    // The mean error is a small rest of residuals of 0.4: compared with those, not with itself.
    expect(Math.abs(meanOf(residual) - -2.07358610569e-5)).toBeLessThan(1e-12);
    expectClose([Math.sqrt(meanOf(residual.map(square)))], [0.391803506866], ROUNDING);
    expectClose([meanOf(score.map(square))], [0.818545580838], ROUNDING);
  });

  it('gives gstat’s exponential estimates from the 16 nearest points', () => {
    const model: VariogramModel = { family: 'exponential', nugget: 0, psill: 0.7187, range_m: 449.8 };
    const near = { ...all, most: 16 };
    const { values, se } = krigeAt(places.x, places.y, meuse.x, meuse.y, logZinc, model, near);
    expectClose(
      values,
      [5.563867167, 6.51166913249, 5.67069504672, 6.21104629639, 6.42539713465, 6.64170829763],
      ROUNDING,
    );
    expectClose(
      se.map((each) => each * each),
      [0.116478019959, 0.0839638488532, 0.125341465791, 0.38935125201, 0.106482975236, 0.825041841345],
      ROUNDING,
    );
  });

  const near = { radius_m: 1000, most: 40, least: 20 };
  it.each([
    {
      what: 'points, 20 to 40 within 1 km',
      options: { ...near, block_m: 0 },
      estimates: [268.363875303, 664.36087954, 251.711729835, 532.436468493, 663.906481384, 647.743106376],
      variances: [48498.4728587, 45857.4498738, 50644.2034274, 103109.804916, 52454.1760531, 204773.359932],
    },
    {
      what: 'blocks of 40 m, 20 to 40 points within 1 km',
      options: { ...near, block_m: 40 },
      estimates: [268.757609816, 663.491460334, 251.460642602, 532.577617742, 664.403855504, 647.661823626],
      variances: [19447.6698674, 16991.3257009, 21579.7066291, 73807.9096641, 23589.1655991, 175360.205377],
    },
    {
      what: 'blocks of 400 m, all points',
      options: { ...all, block_m: 400 },
      estimates: [324.381302543, 631.462354336, 228.221378416, 541.714032123, 677.705370256, 602.456859699],
      variances: [3438.00590624, 3574.40655397, 4503.56487681, 35234.293605, 10488.5147175, 90520.2549606],
    },
  ])('gives gstat’s zinc: $what', ({ options, estimates, variances }) => {
    const model: VariogramModel = { family: 'spherical', nugget: 2.42e4, psill: 1.34e5, range_m: 800 };
    const found = krigeAt(places.x, places.y, meuse.x, meuse.y, meuse.zinc, model, options);
    const share = options.block_m > 0 ? QUADRATURE : { estimate: ROUNDING, variance: ROUNDING };
    expectClose(found.values, estimates, share.estimate);
    expectClose(
      found.se.map((each) => each * each),
      variances,
      share.variance,
    );
  });

  it('stands beside the inverse-distance means of gstat', () => {
    const wanted = [336.312075635, 681.895765328, 314.73940073, 456.466594359, 564.835892943, 528.347877185];
    const found = wanted.map((_, k) => {
      const [x, y, half] = [places.x[k], places.y[k], 5000];
      const outer = Float64Array.of(
        x - half,
        y - half,
        x + half,
        y - half,
        x + half,
        y + half,
        x - half,
        y + half,
      );
      const grid = layOutGrid([{ outer, holes: [] }], 2 * half, 0);
      return inverseDistance(grid, meuse.x, meuse.y, meuse.zinc, { radius_m: 1e4, most: 155, power: 2 })[0];
    });
    expectClose(found, wanted, ROUNDING);
  });
});

/** Isaaks & Srivastava 1989, An Introduction to Applied Geostatistics, ch. 12: seven points about (65, 137), C(h) = 10 e^(−0.3 h). From memory, recomputed. */
describe('a textbook’s ordinary kriging', () => {
  const x = Float64Array.of(61, 63, 64, 68, 71, 73, 75);
  const y = Float64Array.of(139, 140, 129, 128, 140, 141, 128);
  const value = Float64Array.of(477, 696, 227, 646, 606, 791, 783);
  const model: VariogramModel = { family: 'exponential', nugget: 0, psill: 10, range_m: 10 / 3 };
  const at = (values: Float64Array) =>
    krigeAt(Float64Array.of(65), Float64Array.of(137), x, y, values, model, { ...all, most: 7 });

  it('gives its estimate and variance, to the digits printed', () => {
    const { values, se } = at(value);
    expect(values[0]).toBeCloseTo(592.73, 2);
    expect(se[0] ** 2).toBeCloseTo(8.956, 3);
  });

  it('gives its weights: the estimate of one among zeros is the weight of its point', () => {
    const weights = Array.from(x, (_, k) => at(x.map((_, i) => Number(i === k))).values[0]);
    [0.173, 0.318, 0.129, 0.086, 0.151, 0.057, 0.086].forEach((weight, k) => {
      expect(weights[k]).toBeCloseTo(weight, 3);
    });
    expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
  });
});

function summary(figures: Float64Array): number[] {
  const [least, most] = [Math.min(...figures), Math.max(...figures)];
  return [least, figures.reduce((sum, each) => sum + each, 0) / figures.length, most];
}
