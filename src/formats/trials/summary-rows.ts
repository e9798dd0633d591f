import type { TrialColumns } from './trial-columns.ts';
import { NUMBER_ROLES, type TrialRole } from './trial-role.ts';
import type { TrialSheet } from './trial-sheet.ts';

/** What may follow the name of a test: its level, never another number, as `CV 12` is a product. */
const LEVEL = /(\s*[,@]?\s*(\(?\s*(p\s*[=<]\s*)?(0?[.,]\d+|\d{1,2}\s*%|%)\s*\)?|\(.*\)|%.*))?/.source;
/** What stands in place of a product in rows that sum a table up. */
const SUMMARY = new RegExp(
  `^((trial|test|site|loc(ation)?|grand|overall|experiment|check|entry)s?\\s*)?(mean|average|avg\\.?|median)s?$|^(lsd|gd|ppds|mds|dms|hsd|msd|cv|c\\.v\\.?|s\\.?e\\.?(d|m)?\\.?|std\\.?\\s*(err|dev).*|standard (error|deviation).*|r-squared|p[- ]?values?|prob.*>.*|(versuchs)?mittel(wert)?|moyenne|media|promedio|gemiddelde?|gennemsnit)${LEVEL}$`,
  'i',
);
/** Words that are so only where a row lacks what plots have. */
const AT_THE_FOOT =
  /^((grand\s*)?(total|sum)s?|range|max(imum)?|min(imum)?|n|ns|n\.s\.|overall|p?r?\s*>\s*f|p\s*[<>=].*|r\s*[2²]|f[- ]?(test|value|prob.*)?|signif(icance|\.)?|(average|mean) of .*|[*†‡].*|.*\s(mean|average)|mse|df|d\.f\.)$/i;

/** Whether a text sums up rather than names. */
export function isSummary(text: string): boolean {
  return text.length <= 40 && SUMMARY.test(text.trim());
}

function isAtTheFoot(text: string): boolean {
  return text.length <= 40 && AT_THE_FOOT.test(text.trim());
}

/** Whether a text may stand in place of a product in a row that sums up. */
export function isSummaryWord(text: string): boolean {
  return isSummary(text) || isAtTheFoot(text);
}

/** Which rows sum the others up, and the words that say so. */
export interface SummaryRows {
  readonly is: (record: number) => boolean;
  readonly words: readonly string[];
}

/**
 * Rows that are no plots, by a word in place of the product and what they lack. A name like such a word that stands in whole rows with their
 * repetition, or elsewhere than at the end of a site, where its mean would stand, is a product.
 */
export function summaryRows(sheet: TrialSheet, columns: TrialColumns): SummaryRows {
  const texts = (role: keyof TrialColumns) => (columns[role] ? sheet.texts(columns[role].column) : null);
  const [names, sites, trials, brands, reps] = (['product', 'site', 'trial', 'brand', 'rep'] as const).map(
    texts,
  );
  const place = sites ?? trials;
  const isWord = (i: number) => names !== null && isSummaryWord(names[i]);
  const filled = (['site', 'rep', 'block', 'year', 'stand', 'rate'] as const)
    .map(texts)
    .filter((own) => own !== null)
    .filter((own) => isFilled(own, isWord));
  const withReps = reps !== null && isFilled(reps, isWord);
  const lacks = (i: number) => filled.some((own) => own[i] === '');
  const found = new Set<number>();
  const words = new Set<string>();
  const take = (records: readonly number[], word: string) => {
    for (const i of records) found.add(i);
    if (records.length > 0) words.add(word);
  };
  const named = new Map<string, number[]>();
  for (let i = 0; i < sheet.records; i++) {
    const name = names?.[i] ?? '';
    const beside = [place?.[i] ?? '', brands?.[i] ?? '', reps?.[i] ?? ''];
    // A rep or a place may be called `R2` or `SE`.
    const word = names && name === '' ? beside.find((own) => isSummary(own)) : undefined;
    if (word !== undefined) take([i], word);
    if (!isWord(i)) continue;
    const records = named.get(name) ?? [];
    records.push(i);
    named.set(name, records);
  }
  // The row after each that no word stands in.
  const after = new Int32Array(sheet.records + 1).fill(sheet.records);
  for (let i = sheet.records - 1; i >= 0; i--) after[i] = isWord(i) ? after[i + 1] : i;
  const endsSite = (i: number) =>
    after[i] === sheet.records || (place !== null && place[after[i]] !== place[i]);
  for (const [name, records] of named) {
    const whole = records.filter((i) => !lacks(i));
    // A mean has no repetition of its own.
    const isProduct = isSummary(name) && !withReps ? !whole.every(endsSite) : whole.length > 0;
    if (!isProduct) take(records, name);
  }
  return { is: (i) => found.has(i), words: [...words] };
}

/** Whether a column tells of most rows that no word sums up, so that a blank in it is a lack. */
function isFilled(texts: readonly string[], isWord: (record: number) => boolean): boolean {
  const plots = texts.filter((_, i) => !isWord(i));
  return plots.filter((own) => own !== '').length >= 0.6 * Math.max(1, plots.length);
}

/** Columns without the figures of rows that sum up, which would speak for units and codes. */
export function figuresOfPlots(columns: TrialColumns, summaries: SummaryRows): TrialColumns {
  if (summaries.words.length === 0) return columns;
  const own = Object.entries(columns).map(([role, chosen]) => {
    if (chosen.column.kind === 'text' || !NUMBER_ROLES.includes(role as TrialRole)) return [role, chosen];
    const values = chosen.column.values.map((value, i) => (summaries.is(i) ? Number.NaN : value));
    return [role, { ...chosen, column: { ...chosen.column, values } }];
  });
  return Object.fromEntries(own);
}
