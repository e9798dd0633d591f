import { quickselect } from 'simple-statistics';

/** So many are worth a look at a sample of them first. */
const MANY = 10_000;
const SAMPLE = 101;
/** So few are put in order faster than one of them is selected. */
const FEW = 40;

/**
 * Median of the first `count` of `values`, none of them NaN (mean of the middle two when even); NaN of none. Linear time; puts the values in another
 * order, for arrays that hold nothing else.
 */
export function selectMedian(values: Float64Array, count: number): number {
  const middle = count >> 1;
  const common = commonKth(values, count, middle);
  if (count % 2 === 1 && !Number.isNaN(common)) return common;
  const both = (common + commonKth(values, count, middle - 1)) / 2;
  if (count % 2 === 0 && !Number.isNaN(both)) return both;
  const upper = selectKth(values, count, middle);
  if (count % 2 === 1 || count === 0) return upper;
  let lower = values[0];
  for (let i = 1; i < middle; i++) if (values[i] > lower) lower = values[i];
  return (lower + upper) / 2;
}

/** The one of the first `count` that has `k` before it when sorted; NaN of none. May reorder `values` likewise. */
export function selectKth(values: Float64Array, count: number, k: number): number {
  if (count === 0) return NaN;
  if (count <= FEW) {
    putInOrder(values, count);
    return values[k];
  }
  const common = commonKth(values, count, k);
  if (!Number.isNaN(common)) return common;
  // Written for plain arrays, works on typed ones (Floyd & Rivest 1975, CACM 18:173).
  quickselect(values as unknown as number[], k, 0, count - 1);
  return values[k];
}

/** By insertion: an array in order already is only looked through. */
function putInOrder(values: Float64Array, count: number): void {
  for (let i = 1; i < count; i++) {
    const own = values[i];
    let at = i;
    for (; at > 0 && values[at - 1] > own; at--) values[at] = values[at - 1];
    values[at] = own;
  }
}

/**
 * The same where a sample holds it several times over, else NaN: seconds from record to record are mostly one figure, and selecting is slow among equals
 * while counting is not.
 */
function commonKth(values: Float64Array, count: number, k: number): number {
  if (count < MANY) return NaN;
  const sample = Float64Array.from({ length: SAMPLE }, (_, s) => values[Math.floor((s * count) / SAMPLE)]);
  const likely = sample.sort()[Math.floor((k * SAMPLE) / count)];
  if (sample.filter((own) => own === likely).length < SAMPLE / 10) return NaN;
  let [less, equal] = [0, 0];
  for (let i = 0; i < count; i++) {
    if (values[i] < likely) less++;
    else if (values[i] === likely) equal++;
  }
  return less <= k && k < less + equal ? likely : NaN;
}
