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
 * best stand can be had, or the line is clearly likelier, the straight line is taken, which only says which end of the stands tried is the better. Null where not even that can be had.
 */
export function chooseFamily(trials: FamilyTrials): FamilyChoice | null {
  const order = ranked(trials);
  if (!order.some(({ family }) => FAMILIES[family].hasOptimum)) return straightLine(trials);
  if (isStraight(trials, order[0])) return straightLine(trials);
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

/** Whether a straight line has clearly less AICc than the best curve, so that nothing speaks for a bend. */
function isStraight({ tried }: FamilyTrials, best: Likeliest): boolean {
  const line = tried.get('line');
  return line !== undefined && !isRefused(line) && best.aicc - line.aicc > AS_GOOD;
}

function straightLine({ tried }: FamilyTrials): FamilyChoice | null {
  const line = tried.get('line');
  if (!line || isRefused(line)) return null;
  return {
    family: 'line',
    runnerUp: null,
    said: ['No family with a best stand fits, or none as well as a straight line', ...refusals(tried)]
      .join('; ')
      .concat('.'),
  };
}

function refusals(tried: FamilyTrials['tried']): string[] {
  return [...tried.values()].filter(isRefused).map(({ family, refused }) => `${title(family)}: ${refused}`);
}

export function title(family: FamilyId): string {
  return `the ${FAMILIES[family].title}`;
}
