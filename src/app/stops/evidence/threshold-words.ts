/** Thresholds in words that carry on from the title of their rule. */
const words: Readonly<Record<string, string>> = {
  'pass-start seconds': 'First',
  'pass-end seconds': 'Last',
  'speed-range least': 'Slower than',
  'speed-range most': 'Faster than',
  'speed-change sharePerSecond': 'Change a second, share',
  'narrow-swath share': 'Under this share of the header',
  'co-located apart_m': 'Nearer than',
  'overlap share': 'Over this share already cut',
  'moisture-range margin_pct': 'Range widened by',
  'biological-range stretch': 'Range stretched',
  'too-low timesMedian': 'Under the median',
  'too-high timesMedian': 'Over the median',
  'global-outlier deviations': 'Further than',
  'local-outlier deviations': 'Further than',
  'local-outlier square_m': 'Neighbours in squares of',
  'local-outlier floor': 'Least MAD, share of the median',
  'local-moran level': 'Level of the test',
  'local-moran square_m': 'Neighbours in squares of',
  'short-pass records': 'Fewer kept than',
};

const units: Readonly<Record<string, string>> = {
  'too-low timesMedian': '×',
  'too-high timesMedian': '×',
  'biological-range stretch': '×',
  'short-pass records': 'records',
};

export function thresholdName(rule: string, name: string): string {
  return words[`${rule} ${name}`] ?? name.replace(/_.*$/, '').replace(/([A-Z])/g, ' $1');
}

/** A unit as short as its column. */
export function thresholdUnit(rule: string, name: string, unit: string): string {
  if (unit === 'standard deviations') return 'std dev';
  if (unit === 'points of moisture') return 'points';
  return unit || (units[`${rule} ${name}`] ?? '');
}
