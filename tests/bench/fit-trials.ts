import { readFileSync } from 'node:fs';
import { fitLineup } from '../../src/engine/lineup/fit-lineup.ts';
import { optimumInterval } from '../../src/engine/lineup/response-interval.ts';
import { readTrials } from '../../src/formats/trials/read-trials.ts';
import { steps, timed } from './steps.ts';

/** A process of its own: `fit-trials FILE FAMILY…` reads a trial table and fits every product, with the interval of its best stand; all families where none is named. */
const [path, ...families] = process.argv.slice(2);

const { table } = timed('read and recognise', () =>
  readTrials({ name: 'trials.csv', bytes: readFileSync(path) }),
);
const options = families.length > 0 ? { families: families as 'quadratic'[], lean: false } : {};
const fit = timed('fit', () => fitLineup(table, 'corn', options));
const stands = timed('intervals', () =>
  fit.products.map(({ response }) => response && optimumInterval(response, fit.reference_buPerAc, 0)),
);
const mean = stands.reduce((sum, own) => sum + (own?.value ?? NaN), 0) / stands.length;
console.log(JSON.stringify({ steps, products: stands.length, bestStand_k: mean }));
