import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { fitTrials } from '../../src/jobs/fit-lineup.ts';
import { openTrials } from '../../src/jobs/open-trials.ts';
import { type Lineup, lineupSchema } from '../../src/plan/lineup-schema.ts';
import { NOTES, SCALE } from './lineup-notes.ts';
import { CROPS, TRUE_PRODUCTS } from './true-products.ts';

const NAME = 'Meadow and marsh (invented)';

/** The lineup as its trials show it: what `eachacre fit` makes of the trial table and of what is known of the products beside. */
export function lineupOf(trials: FileBytes): Lineup {
  return fitTrials(openTrials([trials]), { name: NAME, known: knownProducts() }).lineup;
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
