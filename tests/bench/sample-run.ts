import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { createDesk } from '../../src/jobs/desk.ts';
import { setGrainPrice } from '../../src/plan/edits/set-money.ts';
import type { Plan } from '../../src/plan/schema.ts';
import { readPlan } from '../../src/plan/validate.ts';

/** A process of its own: `sample-run FOLDER`, the folder of the sample fields. Prints the milliseconds of two runs of one desk as JSON. */
const folder = process.argv[2];
const files = readdirSync(folder, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => join(entry.parentPath, entry.name))
  .map((path) => ({ name: relative(folder, path), bytes: new Uint8Array(readFileSync(path)) }));
const name = join('marl-hollow', 'marl-hollow.plan.json');
const bytes = files.find((file) => file.name === name)?.bytes;
const plan = readPlan(JSON.parse(new TextDecoder().decode(bytes)), name).value;
if (!plan) throw new Error('the sample plan does not read');

const desk = createDesk();
await desk.call('open', { files: files.filter((file) => !file.name.startsWith('heron-flat')) });
const cold = await timed(plan);
const dearer = setGrainPrice(plan, (plan.money.grainPrice_perBu ?? 4) + 0.25).plan;
if (!dearer) throw new Error('the price is refused');
const again = await timed(dearer);
console.log(JSON.stringify({ cold, again }));

async function timed(asked: Plan): Promise<number> {
  const from = performance.now();
  const results = await desk.call('run', { plan: asked });
  if (!results.ledger) throw new Error('the run gives no ledger');
  return performance.now() - from;
}
