import { probit } from 'simple-statistics';
import type { CleaningRule } from '../cleaning-rule.ts';
import { binKept } from '../kept-bins.ts';
import { keptSpread } from '../kept-values.ts';

/**
 * Local Moran's I (Anselin 1995, Geographical Analysis 27:93): Iᵢ = (zᵢ / m₂) · lagᵢ, z the deviation from the mean of the kept records, m₂ the mean of z², lag the
 * plain mean of z over the kept neighbours in the 3 × 3 squares about the record's own, itself left out (row-standardised weights). A record is set aside when all of these hold:
 * - I is negative: the record lies on the other side of the mean than its neighbours do;
 * - it is so at the level, one-sided, by the normal with the moments of conditional randomisation: the k neighbours drawn without return from the n − 1 other records,
 *   so E(lag) = −zᵢ / (n − 1), Var(lag) = s²/k · (n − 1 − k) / (n − 2), s² the variance of the others;
 * - it is influential in the Moran plot (regression of lag on z): Cook's distance over 4 / n.
 * Vega et al. 2019 set aside what fails either test. On fields with strong patterns that takes a tenth of good records, near the mean, so both are asked here.
 */
export const localMoran: CleaningRule = {
  id: 'local-moran',
  title: 'against the trend of its neighbours',
  source: 'Anselin 1995, Geographical Analysis 27:93; Vega et al. 2019, Precision Agriculture 20:1030',
  thresholds: {
    level: {
      unit: '',
      usual: 0.05,
      least: 0.0001,
      most: 0.5,
      why: 'the level of Vega et al. 2019',
    },
    square_m: {
      unit: 'm',
      usual: 12,
      least: 5,
      most: 50,
      why: 'as for the neighbours of the rule before; our own choice, no source',
    },
  },
  judge: (log, passes, kept, { level, square_m }) => {
    const { value } = log;
    const { count: n, mean, sd } = keptSpread(value, kept);
    if (n < 4 || !(sd > 0)) return new Uint8Array(value.length);
    const { cols, rows, start, records } = binKept(log, passes, kept, square_m);
    const sums = new Float64Array(cols * rows);
    for (let square = 0; square < sums.length; square++) {
      for (let k = start[square]; k < start[square + 1]; k++) sums[square] += value[records[k]] - mean;
    }
    /** By place in `records`. */
    const lag = new Float64Array(n).fill(NaN);
    const deviate = new Float64Array(n);
    for (let square = cols + 1; square < cols * (rows - 1) - 1; square++) {
      if (start[square] === start[square + 1]) continue;
      let sum = 0;
      let neighbours = -1;
      for (let row = square - cols; row <= square + cols; row += cols) {
        sum += sums[row - 1] + sums[row] + sums[row + 1];
        neighbours += start[row + 2] - start[row - 1];
      }
      if (neighbours < 1) continue;
      for (let k = start[square]; k < start[square + 1]; k++) {
        const z = value[records[k]] - mean;
        lag[k] = (sum - z) / neighbours;
        const others = (n * sd * sd - z * z) / (n - 1) - (z / (n - 1)) ** 2;
        const variance = ((others / neighbours) * (n - 1 - neighbours)) / (n - 2);
        deviate[k] = ((lag[k] + z / (n - 1)) / Math.sqrt(variance)) * Math.sign(z);
      }
    }
    const influence = cooksDistances(value, mean, records, lag);
    const critical = probit(level);
    const marks = new Uint8Array(value.length);
    for (let k = 0; k < n; k++) {
      const opposed = lag[k] * (value[records[k]] - mean) < 0;
      if (opposed && deviate[k] < critical && influence[k] > 4 / n) marks[records[k]] = 1;
    }
    return marks;
  },
};

/** Cook's distance (Cook 1977, Technometrics 19:15) of each point of the regression of lag on z, by place in `records`; NaN where the lag is not known. */
function cooksDistances(
  value: Float64Array,
  mean: number,
  records: Uint32Array,
  lag: Float64Array,
): Float64Array {
  let [n, sz, sl] = [0, 0, 0];
  for (let k = 0; k < lag.length; k++) {
    if (Number.isNaN(lag[k])) continue;
    n++;
    sz += value[records[k]] - mean;
    sl += lag[k];
  }
  const [z0, l0] = [sz / n, sl / n];
  let [szz, szl, sll] = [0, 0, 0];
  for (let k = 0; k < lag.length; k++) {
    if (Number.isNaN(lag[k])) continue;
    const z = value[records[k]] - mean - z0;
    const l = lag[k] - l0;
    szz += z * z;
    szl += z * l;
    sll += l * l;
  }
  const slope = szl / szz;
  const errorVariance = (sll - slope * szl) / (n - 2);
  return lag.map((own, k) => {
    const z = value[records[k]] - mean - z0;
    const leverage = 1 / n + (z * z) / szz;
    const error = own - l0 - slope * z;
    return ((error * error) / (2 * errorVariance)) * (leverage / (1 - leverage) ** 2);
  });
}
