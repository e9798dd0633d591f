import type { Estimate } from '../../../engine/lineup/estimate.ts';
import type { Product } from '../../../engine/lineup/product.ts';
import { curveOf } from '../../../engine/lineup/product-response.ts';
import { optimumInterval } from '../../../engine/lineup/response-interval.ts';
import { agronomicOptimum } from '../../../engine/response/curve.ts';
import { productKey } from '../../../formats/lineup/product-ids.ts';
import type { Lineup } from '../../../plan/lineup-schema.ts';
import { count, figure } from '../../parts/figures.ts';
import { standWords } from './estimate-words.ts';

export interface ProductChange {
  readonly id: string;
  readonly name: string;
  readonly crop: string;
  readonly kind: 'new' | 'changed' | 'as it was' | 'gone';
  /** What there will be to say of its stand, and what there was: '' for nothing. */
  readonly stand: string;
  readonly standBefore: string;
  /** Whatever else changes, in few words each. */
  readonly words: readonly string[];
}

/** What a lineup says otherwise than the one before, product by product: those that change first. */
export function lineupChanges(before: Lineup | null, after: Lineup): ProductChange[] {
  const earlier = new Map((before?.products ?? []).map((product) => [productKey(product), product]));
  const changes = after.products.map((product) => {
    const was = earlier.get(productKey(product)) ?? null;
    earlier.delete(productKey(product));
    return changeOf(was, product);
  });
  const gone = [...earlier.values()].map(
    ({ id, name, crop }): ProductChange => ({
      ...{ id, name, crop, kind: 'gone', stand: '', standBefore: '', words: [] },
    }),
  );
  const order = { new: 0, changed: 1, gone: 2, 'as it was': 3 } as const;
  return [...changes, ...gone].sort((a, b) => order[a.kind] - order[b.kind]);
}

function changeOf(was: Product | null, product: Product): ProductChange {
  const { id, name, crop } = product;
  const [stand, before] = [standOf(product), was ? standOf(was) : ''];
  const words = wordsOf(was, product);
  const kind = was === null ? 'new' : words.length > 0 || stand !== before ? 'changed' : 'as it was';
  return { ...{ id, name, crop, kind, stand, words }, standBefore: before === stand ? '' : before };
}

/** The best stand on ground of the reference. */
function standOf({ response, tested_plantsPerAc }: Product): string {
  if (response === null) return '';
  const { reference_buPerAc } = response;
  const value = agronomicOptimum(curveOf(response, reference_buPerAc));
  const alone: Estimate = { value, low: NaN, high: NaN };
  return standWords(optimumInterval(response, reference_buPerAc, 0, tested_plantsPerAc) ?? alone);
}

function wordsOf(was: Product | null, now: Product): string[] {
  const trials = trialsOf(now);
  if (was === null)
    return [
      ...(trials === '' ? [] : [trials]),
      now.pricePerUnit === null ? 'no price yet' : `$${figure(now.pricePerUnit, 2)} a unit`,
    ];
  const words: string[] = [];
  if (trials !== trialsOf(was)) words.push(`${trials || 'no trials'}, before ${trialsOf(was) || 'none'}`);
  if (now.pricePerUnit !== was.pricePerUnit)
    words.push(`$${figure(now.pricePerUnit, 2)} a unit, before ${figure(was.pricePerUnit, 2)}`);
  if (now.seedsPerUnit !== was.seedsPerUnit)
    words.push(`${figure(now.seedsPerUnit)} seeds in a unit, before ${figure(was.seedsPerUnit)}`);
  for (const [name, of] of OTHERS)
    if (JSON.stringify(of(now)) !== JSON.stringify(of(was))) words.push(`other ${name}`);
  return words;
}

const OTHERS: readonly (readonly [string, (product: Product) => unknown])[] = [
  ['maturity', ({ maturity, gddToMaturity }) => [maturity, gddToMaturity]],
  ['treatments', ({ treatments }) => treatments],
  ['traits', ({ traits }) => traits],
  ['ratings', ({ ratings }) => ratings.toSorted((a, b) => (a.of < b.of ? -1 : 1))],
  ['rules', ({ placement }) => placement],
  [
    'notes',
    ({ stature, notes, meterNotes, stewardshipNotes }) => [stature, notes, meterNotes, stewardshipNotes],
  ],
];

function trialsOf({ plots }: Product): string {
  if (plots === null || plots.site.length === 0) return '';
  return `${count(plots.site.length, 'plot')} at ${count(new Set(plots.site).size, 'site')}`;
}
