import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { fitTrials } from '../../src/jobs/fit-lineup.ts';
import { openTrials } from '../../src/jobs/open-trials.ts';
import { type Lineup, lineupSchema } from '../../src/plan/lineup-schema.ts';
import { NOTES, SCALE } from './lineup-notes.ts';
import { CROPS, TRUE_PRODUCTS } from './true-products.ts';

const NAME = 'Meadow and marsh (invented)';
/** Digits of a response that are kept: more than trials tell, and few enough that a fit made faster, or another machine, writes the same. */
const DIGITS = 5;

/** The lineup as its trials show it: what `eachacre fit` makes of the trial table and of what is known of the products beside. */
export function lineupOf(trials: FileBytes): Lineup {
  const { lineup } = fitTrials(openTrials(trials), { name: NAME, known: knownProducts() });
  return {
    ...lineup,
    products: lineup.products.map(({ response, fit, ...product }) => ({
      ...product,
      response: rounded(response),
      fit: rounded(fit),
    })),
  };
}

/** All that does not come from trials. */
function knownProducts(): Lineup {
  return lineupSchema.parse({
    document: 'eachacre-lineup',
    version: 1,
    name: NAME,
    scales: [SCALE],
    products: TRUE_PRODUCTS.map(({ id, name, crop, maturity, pricePerUnit }) => ({
      ...{ id, name, crop, maturity, pricePerUnit, seedsPerUnit: CROPS[crop].seedsPerUnit },
      ...NOTES[id],
    })),
  });
}

/** The same with every number in it rounded. */
function rounded<T>(value: T): T {
  if (typeof value === 'number') return Number(value.toPrecision(DIGITS)) as T;
  if (Array.isArray(value)) return value.map(rounded) as T;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, own]) => [key, rounded(own)])) as T;
}
