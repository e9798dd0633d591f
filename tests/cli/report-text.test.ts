import { expect, it } from 'vitest';
import { reportOf } from '../../src/cli/report.ts';
import { reportText } from '../../src/cli/report-text.ts';
import { run } from '../../src/run/run.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs } from '../run/small-field.ts';

it.each([
  [-1.19, '$1.19/ac under it, $48 on the field'],
  [1.19, '$1.19/ac over it, $48 on the field'],
])('says which side of the best flat plan a worth of %d lies on, without a sign', async (perAc, says) => {
  const own = plan(answers);
  const walked = await run(own, inputs);
  if (!walked.worth) throw new Error('the field has no worth');
  const results = { ...walked, worth: { ...walked.worth, perAc, perField: 40 * perAc } };
  expect(reportText(reportOf(own, results, null, [], null), own, results)).toContain(`This plan: ${says}.`);
});
