import type { Issue } from '../issue.ts';
import { plainCrop, sameCrop } from '../math/crop-name.ts';
import { median } from '../math/median.ts';
import type { FamilyId } from '../response/family.ts';
import {
  chooseFamily,
  chooseForGroup,
  type FamilyChoice,
  type FamilyTrials,
  familyInGroup,
  tryFamilies,
} from '../response/fit/choose-family.ts';
import { type FamilyFit, isRefused } from '../response/fit/family-fit.ts';
import { finishFit } from '../response/fit/fit-family.ts';
import { trialOf } from '../response/fit/trial.ts';
import { USUAL_LEVEL } from './estimate.ts';
import { type CropCase, fitProduct, type ProductCase, type ProductFit } from './fit-product.ts';
import { FEWEST_PRODUCTS, productGroup } from './product-group.ts';
import { keptPlots, plotsOf, rowsByProduct } from './product-trials.ts';
import type { ProductGroup } from './shrink-to-group.ts';
import { siteEnvironments } from './site-environments.ts';
import type { TrialTable } from './trial-table.ts';

export interface FitLineupOptions {
  /** Only products of this crop; all where not given. */
  readonly crop?: string;
  /** Environment level and stand are given at, bu/ac; the median of the crop's sites where not given. */
  readonly reference_buPerAc?: number;
  /** Families to choose from; the straight line is always the last resort. */
  readonly families?: readonly FamilyId[];
  /** Whether products are drawn towards those of their crop. True where not given. */
  readonly shrink?: boolean;
  /** Share of the intervals that hold the truth. */
  readonly level?: number;
  /** Price of a thousand plants in bushels, for the stand of highest return. */
  readonly r?: number;
}

/** What was found for the products of one crop together. */
export interface CropFit {
  readonly crop: string;
  readonly reference_buPerAc: number;
  /** By site of the table; NaN where the crop was not. */
  readonly environment_buPerAc: Float64Array;
  readonly choice: FamilyChoice | null;
  readonly group: ProductGroup | null;
  readonly said: readonly string[];
}

export interface LineupFit {
  readonly crops: readonly CropFit[];
  /** In the order of the table. */
  readonly products: readonly ProductFit[];
  readonly issues: readonly Issue[];
}

/** Curves of all products of a trial table. The same table gives the same answer anywhere; nothing is left to chance. */
export function fitLineup(
  table: TrialTable,
  options: FitLineupOptions = {},
  onProgress?: (done: number) => void,
): LineupFit {
  const steps = fitLineupInSteps(table, options);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    onProgress?.(step.value);
  }
}

/** The same product by product, giving the share done, 0–1: whoever asks for the next may stop between any two. */
export function* fitLineupInSteps(
  table: TrialTable,
  options: FitLineupOptions = {},
): Generator<number, LineupFit, void> {
  const { crop: asked } = options;
  const crops = [...new Set(table.products.map(({ crop }) => plainCrop(crop)))].filter(
    (crop) => asked === undefined || sameCrop(crop, asked),
  );
  const rows = rowsByProduct(table);
  const inCrop = (crop: string) =>
    table.products.flatMap((own, product) => (sameCrop(own.crop, crop) ? [product] : []));
  const all = crops.reduce((sum, crop) => sum + inCrop(crop).length, 0);
  const fits: CropFit[] = [];
  const products: ProductFit[] = [];
  const issues: Issue[] = [];
  for (const crop of crops) {
    const steps = fitCrop(table, crop, inCrop(crop), rows, options);
    for (let step = steps.next(); ; step = steps.next()) {
      if (step.done) {
        fits.push(step.value.crop);
        products.push(...step.value.products);
        issues.push(...step.value.issues);
        break;
      }
      yield (products.length + step.value) / all;
    }
  }
  products.sort((a, b) => a.product - b.product);
  return { crops: fits, products, issues: [...issues, ...products.flatMap((own) => own.issues)] };
}

interface CropFound {
  readonly crop: CropFit;
  readonly products: readonly ProductFit[];
  readonly issues: readonly Issue[];
}

/** Gives how many products are done; comparing families is most of the work, so that counts as nine parts of ten. */
function* fitCrop(
  table: TrialTable,
  crop: string,
  members: readonly number[],
  rows: readonly Uint32Array[],
  options: FitLineupOptions,
): Generator<number, CropFound, void> {
  const ground = siteEnvironments(table, crop);
  const { environment_buPerAc } = ground;
  const reference_buPerAc = options.reference_buPerAc ?? Math.round(median(environment_buPerAc));
  const plots = members.map((product) => plotsOf(table, rows[product], environment_buPerAc));
  const trials: FamilyTrials[] = [];
  for (const own of plots) {
    trials.push(tryFamilies(trialOf(own, reference_buPerAc), options.families));
    yield 0.9 * trials.length;
  }
  const shrink = options.shrink ?? true;
  const choice = shrink ? chooseForGroup(trials) : null;
  const cases = members.map((product, k): ProductCase => {
    const chosen = choice ? familyInGroup(trials[k], choice.family) : chooseFamily(trials[k]);
    return {
      product,
      name: table.products[product].name,
      plots: plots[k],
      kept: keptPlots(table, rows[product]),
      sites: new Set(Array.from(rows[product], (i) => table.site[i])).size,
      choice: chosen,
      ...ownFit(trials[k], chosen, reference_buPerAc, rows[product].length),
    };
  });
  const alike = cases.filter(({ own }) => own !== null && own.family === choice?.family);
  const group = choice ? productGroup(alike.map(({ own }) => own!)) : null;
  const bending = cases
    .filter(({ own }) => own !== null && own.family !== 'line')
    .map(({ own }) => own!.trial);
  const cropCase: CropCase = {
    ...{ crop, reference_buPerAc, group },
    level: options.level ?? USUAL_LEVEL,
    r: options.r ?? null,
    family: choice?.family ?? null,
    tested_k:
      bending.length > 0
        ? {
            min: bending.reduce((least, { tested_k }) => Math.min(least, tested_k.min), Infinity),
            max: bending.reduce((most, { tested_k }) => Math.max(most, tested_k.max), -Infinity),
          }
        : null,
  };
  const products: ProductFit[] = [];
  for (const own of cases) {
    products.push(fitProduct(own, cropCase));
    yield 0.9 * members.length + 0.1 * products.length;
  }
  const said = [
    ...ground.said,
    ...(choice ? [choice.said] : []),
    ...(shrink && !group
      ? [
          `Products are not drawn towards each other: it takes ${FEWEST_PRODUCTS} with a curve of one family, there are ${alike.length}.`,
        ]
      : []),
  ];
  return {
    crop: { crop, reference_buPerAc, environment_buPerAc, choice, group, said },
    products,
    issues: ground.issues,
  };
}

function ownFit(
  { tried }: FamilyTrials,
  choice: FamilyChoice | null,
  reference_buPerAc: number,
  rows: number,
): { readonly own: FamilyFit | null; readonly reason: string } {
  const none = (reason: string) => ({ own: null, reason });
  if (choice === null) {
    const refusals = new Set([...tried.values()].filter(isRefused).map(({ refused }) => refused));
    return none(refusals.values().next().value ?? 'its plots are too few to compare families');
  }
  const likely = tried.get(choice.family)!;
  if (isRefused(likely)) return none(likely.refused);
  const fit = finishFit(likely, reference_buPerAc, rows);
  return isRefused(fit) ? none(fit.refused) : { own: fit, reason: '' };
}
