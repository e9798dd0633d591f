import highs from 'highs';
import { median } from '../../src/engine/math/median.ts';
import { random } from '../../src/engine/math/random.ts';
import { chooseUnderLimits } from '../../src/engine/rates/choose-under-limits.ts';
import { run } from '../../src/run/run.ts';
import { judgeWorth } from '../../src/run/stages/judge-worth.ts';
import { setRates } from '../../src/run/stages/set-rates.ts';
import { anyCase, programme } from '../engine/rates/limited-fields.ts';
import { knownOf } from './truth/known-of-world.ts';
import { trueWorld } from './truth/true-world.ts';

const FIELDS = 20;
const ROUNDS = 20;

/** The choice of products against a mixed-integer solver on the same fields, and what a change of price costs: in this process, warm, medians. */
export async function benchRates(): Promise<void> {
  const solver = await highs();
  const stream = random(88);
  const cases = Array.from({ length: FIELDS }, () => ({ ...anyCase(stream, 30, 8), hoppers: 4 }));
  const ours: number[] = [];
  const theirs: number[] = [];
  for (const own of cases) {
    ours.push(timed(() => chooseUnderLimits(own.rows, own.area_ac, own.hoppers, own.limits)));
    const text = programme(own);
    theirs.push(timed(() => solver.solve(text, { mip_rel_gap: 0 })));
  }
  const [us, them] = [median(ours), median(theirs)];
  console.log(`### Products for ${FIELDS} fields of 8 zones, 30 products, 4 hoppers, under limits\n`);
  console.log(
    `Eachacre ${us.toFixed(0)} ms (at most ${Math.max(...ours).toFixed(0)}), HiGHS ${them.toFixed(0)} ms: ${(them / us).toFixed(1)} times as long.\n`,
  );

  const design = { groundSd: 30, alike: false, products: 12, sites: 12, blocks: 3, years: 3 };
  const known = knownOf(trueWorld({ ...design, seed: 3 }));
  const plan = { ...known.plan, zones: { ...known.plan.zones, count: 6 } };
  const results = await run(plan, known.inputs);
  const { zoning, field, environment, placement, lineup } = results;
  if (!zoning || !field || !environment || !placement) throw new Error('the field was not planned');
  const price = (k: number) => ({ ...plan, money: { ...plan.money, grainPrice_perBu: 4 + k / 100 } });
  const rated = Array.from({ length: ROUNDS }, (_, k) =>
    timed(() => setRates(zoning, lineup, placement, price(k))),
  );
  const rates = setRates(zoning, lineup, placement, plan);
  const judged = Array.from({ length: ROUNDS }, (_, k) =>
    timed(() => judgeWorth(field, environment, results.yields, zoning, lineup, rates, price(k))),
  );
  console.log(
    `### A field of ${zoning.zones.length} zones and ${lineup.length} products after a change of price\n`,
  );
  console.log(
    `Products and rates ${median(rated).toFixed(1)} ms, ${plan.worth.draws} draws of the worth ${median(judged).toFixed(0)} ms (no reference).\n`,
  );
}

function timed(work: () => unknown): number {
  const from = performance.now();
  work();
  return performance.now() - from;
}
