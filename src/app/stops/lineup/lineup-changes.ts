import type { Product } from '../../../engine/lineup/product.ts';
import { plainCrop } from '../../../engine/math/crop-name.ts';
import { productKey } from '../../../formats/lineup/product-ids.ts';
import type { Lineup } from '../../../plan/lineup-schema.ts';
import { figure } from '../../parts/figures.ts';
import { curveChangeWords, type LineupCurves, leaningMark, lineupCurves } from './curve-change-words.ts';
import { bestYieldWords, standOn } from './stand-on-ground.ts';
import { samePlots, trialChangeWords, trialWords } from './trial-change-words.ts';

export interface ProductChange {
  readonly id: string;
  readonly name: string;
  readonly crop: string;
  readonly kind: 'new' | 'changed' | 'as it was' | 'gone';
  /** What there will be to say of its stand, and what there was: '' for nothing. */
  readonly stand: string;
  readonly standBefore: string;
  /** Whose stand that is, where it is not mostly its own; else ''. */
  readonly leaning: string;
  /** Ground that stand is for, the same for all products of a crop; null without a stand. */
  readonly ground_buPerAc: number | null;
  readonly priced: boolean;
  /** Whatever else changes, in few words each. */
  readonly words: readonly string[];
}

/** What a lineup says otherwise than the one before, product by product: those that change first. */
export function lineupChanges(before: Lineup | null, after: Lineup): ProductChange[] {
  const earlier = new Map((before?.products ?? []).map((product) => [productKey(product), product]));
  const curves = [lineupCurves(before ?? NONE), lineupCurves(after)] as const;
  const grounds = groundsOf(after);
  const changes = after.products.map((product) => {
    const was = earlier.get(productKey(product)) ?? null;
    earlier.delete(productKey(product));
    return changeOf(was, product, curves, grounds.get(plainCrop(product.crop)) ?? null);
  });
  const gone = [...earlier.values()].map(
    ({ id, name, crop }): ProductChange => ({
      ...{ id, name, crop, kind: 'gone', stand: '', standBefore: '', leaning: '', ground_buPerAc: null },
      ...{ priced: true, words: [] },
    }),
  );
  const order = { new: 0, changed: 1, gone: 2, 'as it was': 3 } as const;
  return [...changes, ...gone].sort((a, b) => order[a.kind] - order[b.kind]);
}

/** Which ground the best stands are told for; '' without one. */
export function groundWords(changes: readonly ProductChange[]): string {
  const grounds = new Map(
    changes.flatMap(({ crop, ground_buPerAc: own }) => (own === null ? [] : [[plainCrop(crop), own]])),
  );
  const told = [...grounds].map(
    ([crop, own]) => `${figure(own)} bu/ac${grounds.size > 1 ? ` for ${crop}` : ''}`,
  );
  return told.length === 0 ? '' : `Beside each its best stand, plants/ac, on ground of ${told.join(', ')}.`;
}

const NONE = { products: [], sites: [] };

/** The ground the stands of a crop are told for: that its trials are referred to, or its first product where it has none. */
function groundsOf({ products }: Lineup): Map<string, number> {
  const grounds = new Map<string, number>();
  for (const tried of [true, false])
    for (const { crop, response, plots } of products)
      if (response && (plots !== null) === tried && !grounds.has(plainCrop(crop)))
        grounds.set(plainCrop(crop), response.reference_buPerAc);
  return grounds;
}

function changeOf(
  was: Product | null,
  product: Product,
  [before, after]: readonly [LineupCurves, LineupCurves],
  ground_buPerAc: number | null,
): ProductChange {
  const { id, name, crop } = product;
  const stand = standOn(product, ground_buPerAc);
  const standBefore = was === null ? '' : sameCurve(was, product) ? stand : standOn(was, ground_buPerAc);
  const same = was !== null && samePlots(was, product, before.siteKeys, after.siteKeys);
  const words = was === null ? newWords(product) : changedWords(was, product, same);
  if (was !== null && product.plots !== null && same) {
    const yields = bestYieldWords(was, product, ground_buPerAc);
    if (yields.length > 0 || stand !== standBefore)
      words.push(...curveChangeWords(was, product, before, after), ...yields);
  }
  const kind = was === null ? 'new' : words.length > 0 || stand !== standBefore ? 'changed' : 'as it was';
  return {
    ...{ id, name, crop, kind, stand, words },
    standBefore: standBefore === stand ? '' : standBefore,
    leaning: leaningMark(product),
    ground_buPerAc: product.response && ground_buPerAc,
    priced: product.pricePerUnit !== null,
  };
}

function newWords(product: Product): string[] {
  const trials = trialWords(product);
  return [
    ...(trials === '' ? [] : [trials]),
    product.pricePerUnit === null ? 'no price yet' : priceOf(product),
  ];
}

function changedWords(was: Product, now: Product, same: boolean): string[] {
  const words = trialChangeWords(was, now, same);
  if (now.pricePerUnit !== was.pricePerUnit)
    words.push(`${priceOf(now)}, before ${was.pricePerUnit === null ? 'none' : priceOf(was)}`);
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

function priceOf({ pricePerUnit }: Product): string {
  return pricePerUnit === null ? 'no price' : `$${figure(pricePerUnit, 2)} a unit`;
}

function sameCurve(was: Product, now: Product): boolean {
  return (
    JSON.stringify([was.response, was.tested_plantsPerAc]) ===
    JSON.stringify([now.response, now.tested_plantsPerAc])
  );
}
