import { FAMILIES } from '../families.ts';
import type { FamilyId } from '../family.ts';
import { type FamilyRefusal, isRefused } from './family-fit.ts';
import { type FitOptions, type Likeliest, likeliest } from './fit-family.ts';
import type { Trial } from './trial.ts';

/** Families whose AICc is within this of the best are as good as it: Burnham & Anderson 2002, Model Selection and Multimodel Inference, 2nd ed., 2.6. */
export const AS_GOOD = 2;
/** From here on the plots have next to nothing to say for the other family, as in the same table. */
export const FAR_WORSE = 10;

/** Every form of the curve that was asked for, as the plots of one product have it. */
export interface FamilyTrials {
  readonly tried: ReadonlyMap<FamilyId, Likeliest | FamilyRefusal>;
}

/** A family against the next best of those the plots can be fitted by. */
export interface FamilyChoice {
  readonly family: FamilyId;
  readonly runnerUp: { readonly family: FamilyId; readonly aiccMore: number } | null;
  readonly said: string;
}

export const EVERY_FAMILY = Object.keys(FAMILIES) as FamilyId[];

/** The straight line is always tried: it is what is left where nothing bends. */
export function tryFamilies(
  trial: Trial,
  families: readonly FamilyId[] = EVERY_FAMILY,
  options: FitOptions = {},
): FamilyTrials {
  const asked = new Set<FamilyId>([...families, 'line']);
  return {
    tried: new Map(
      EVERY_FAMILY.filter((id) => asked.has(id)).map((id) => [id, likeliest(trial, id, options)] as const),
    ),
  };
}

/** Families the plots can be fitted by, the straight line aside, likeliest first; ties in the order of `FAMILIES`. */
export function ranked({ tried }: FamilyTrials): Likeliest[] {
  const had: Likeliest[] = [];
  for (const fit of tried.values())
    if (!isRefused(fit) && fit.family !== 'line' && fit.aicc < Infinity) had.push(fit);
  return had.sort((a, b) => a.aicc - b.aicc);
}

/**
 * The family of least AICc (Hurvich & Tsai 1989, Biometrika 76:297) for the plots of one product. Within 2 of the best the quadratic is taken, the form most published responses have. Where no family with a
 * best stand can be had the straight line is taken, which only says which end of the stands tried is the better. Null where not even that can be had.
 */
export function chooseFamily(trials: FamilyTrials): FamilyChoice | null {
  const order = ranked(trials);
  if (!order.some(({ family }) => FAMILIES[family].hasOptimum)) return straightLine(trials);
  const quadratic = order.find(({ family }) => family === 'quadratic');
  const nearly = quadratic && quadratic.aicc - order[0].aicc <= AS_GOOD;
  const chosen = nearly ? quadratic : order[0];
  const next = order.find((fit) => fit !== chosen);
  const aiccMore = next ? next.aicc - chosen.aicc : NaN;
  return {
    family: chosen.family,
    runnerUp: next ? { family: next.family, aiccMore } : null,
    said: next
      ? `Of the families that fit, ${title(chosen.family)} ${
          chosen === order[0]
            ? 'has the least AICc'
            : 'is within 2 of the least AICc and the form most published responses have'
        }; next is ${title(next.family)}, ${Math.abs(aiccMore).toFixed(1)} ${aiccMore < 0 ? 'less' : 'more'}.`
      : `Only ${title(chosen.family)} fits.`,
  };
}

/**
 * One family for the products of a crop: that whose AICc, summed over products, is least (within 2 of it the quadratic). A product a family cannot be fitted to counts with its straight line there, which is what it
 * would be left with. Null where no product has a family with a best stand.
 */
export function chooseForGroup(products: readonly FamilyTrials[]): FamilyChoice | null {
  const bending = products.filter((trials) =>
    ranked(trials).some(({ family }) => FAMILIES[family].hasOptimum),
  );
  const sums: { family: FamilyId; aicc: number; fitted: number }[] = [];
  for (const family of EVERY_FAMILY) {
    if (family === 'line') continue;
    const own = { family, aicc: 0, fitted: 0 };
    for (const { tried } of bending) {
      const fit = tried.get(family);
      const line = tried.get('line');
      if (fit && !isRefused(fit) && fit.aicc < Infinity) {
        own.aicc += fit.aicc;
        own.fitted++;
      } else if (line && !isRefused(line)) own.aicc += line.aicc;
    }
    if (own.fitted > 0) sums.push(own);
  }
  if (sums.length === 0) return null;
  sums.sort((a, b) => a.aicc - b.aicc);
  const quadratic = sums.find(({ family }) => family === 'quadratic');
  const chosen = quadratic && quadratic.aicc - sums[0].aicc <= AS_GOOD ? quadratic : sums[0];
  const next = sums.find((own) => own !== chosen);
  const aiccMore = next ? next.aicc - chosen.aicc : NaN;
  const over = `over ${bending.length} ${bending.length === 1 ? 'product' : 'products'} with a bend`;
  return {
    family: chosen.family,
    runnerUp: next ? { family: next.family, aiccMore } : null,
    said: next
      ? `${capital(title(chosen.family))} is taken for all: summed ${over}, ${title(next.family)} has an AICc ${Math.abs(aiccMore).toFixed(1)} ${aiccMore < 0 ? 'less' : 'more'}.`
      : `${capital(title(chosen.family))} is taken for all: it alone fits ${over}.`,
  };
}

/** A product's own family where its plots speak strongly against the group's: 10 and more in AICc (Burnham & Anderson 2002), or where the group's cannot be fitted at all. */
export function familyInGroup(trials: FamilyTrials, group: FamilyId): FamilyChoice | null {
  const own = chooseFamily(trials);
  const fit = trials.tried.get(group);
  if (own === null || own.family === group || !fit || isRefused(fit)) return own;
  const chosen = trials.tried.get(own.family);
  if (!chosen || isRefused(chosen)) return own;
  const more = fit.aicc - chosen.aicc;
  if (own.family !== 'line' && more >= FAR_WORSE)
    return { ...own, said: `${own.said} That of the group, ${title(group)}, has ${more.toFixed(1)} more.` };
  const next = ranked(trials).find(({ family }) => family !== group);
  return {
    family: group,
    runnerUp: next ? { family: next.family, aiccMore: next.aicc - fit.aicc } : null,
    said: `${capital(title(group))} of the group is kept: its own plots would have ${title(own.family)}, by ${more.toFixed(1)} in AICc, and 10 are asked for.`,
  };
}

function capital(text: string): string {
  return text[0].toUpperCase() + text.slice(1);
}

function straightLine({ tried }: FamilyTrials): FamilyChoice | null {
  const line = tried.get('line');
  if (!line || isRefused(line)) return null;
  return {
    family: 'line',
    runnerUp: null,
    said: `No family with a best stand fits: ${refusals(tried)}.`,
  };
}

function refusals(tried: FamilyTrials['tried']): string {
  return [...tried.values()]
    .filter(isRefused)
    .map(({ family, refused }) => `${title(family)}, ${refused}`)
    .join('; ');
}

export function title(family: FamilyId): string {
  return `the ${FAMILIES[family].title}`;
}
