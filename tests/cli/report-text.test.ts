import { expect, it } from 'vitest';
import { reportOf } from '../../src/cli/report.ts';
import { reportText } from '../../src/cli/report-text.ts';
import { run } from '../../src/run/run.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs } from '../run/small-field.ts';

it.each([
  [-1.19, 'The plan earns an estimated $1.19/ac ($48 on the field) less than the best flat plan'],
  [1.19, 'Planting by map pays an estimated $1.19/ac ($48 on the field) over the best flat plan'],
])('says which side of the best flat plan a worth of %d lies on, without a sign', async (perAc, says) => {
  const own = plan(answers);
  const walked = await run(own, inputs);
  if (!walked.worth) throw new Error('the field has no worth');
  const results = { ...walked, sure: null, worth: { ...walked.worth, perAc, perField: 40 * perAc } };
  expect(reportText(reportOf(own, results, null, null, [], null), own, results)).toContain(says);
});
