import { expect, it } from 'vitest';
import { shortPass } from '../../../../src/engine/harvest/rules/short-pass.ts';
import { drivenPasses } from '../driven-passes.ts';
import { judged } from '../judged.ts';

it('sets aside passes of fewer than five kept records', () => {
  const log = drivenPasses({ passes: 3, records: 6 });
  expect(judged(shortPass, log)).toEqual([]);
  const kept = [1, 1, 1, 1, 1, 1, 0, 0, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1];
  expect(judged(shortPass, log, {}, kept)).toEqual([8, 9, 10, 11]);
  expect(judged(shortPass, log, { records: 4 }, kept)).toEqual([]);
});
