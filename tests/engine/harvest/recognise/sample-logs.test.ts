import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { recogniseColumns } from '../../../../src/engine/harvest/recognise/recognise-columns.ts';
import { readFiles } from '../../../../src/formats/registry.ts';

const SAMPLES = join(import.meta.dirname, '../../../../sample-fields');

// Invented harvests with late flow, noise, jumping positions and headers up; how they were written is in the generator beside them.
describe('the logs of the sample fields, the crop planned being corn', () => {
  it.each([
    ['marl-hollow/yield-2022', 'dry yield bu/ac', 'bu/ac', 'dry', null],
    ['marl-hollow/yield-2023', 'yield_dry_t_ha', 't/ha', 'dry', null],
    ['marl-hollow/yield-2024', 'YIELD_BU', 'bu/ac', 'dry', null],
    ['heron-flat/yield-2022', 'yield lb/ac', 'lb/ac', 'dry', 'soybean'],
    ['heron-flat/yield-2024', 'yield bu/ac', 'bu/ac', 'dry', 'soybean'],
  ])('%s: %s in %s, %s, proposed as %s', async (path, column, unit, basis, crop) => {
    const bytes = new Uint8Array(readFileSync(join(SAMPLES, `${path}.zip`)));
    const { sources } = await readFiles([{ name: 'log.zip', bytes }]);
    const seen = recogniseColumns(sources[0], 'corn');
    expect(seen.columns.yield).toEqual({ column, unit });
    expect(seen.basis).toBe(basis);
    for (const role of [
      'flow',
      'distance',
      'swath',
      'moisture',
      'speed',
      'heading',
      'time',
      'pass',
    ] as const) {
      expect(seen.columns[role], role).not.toBeNull();
      expect(seen.columns[role]?.unit, role).not.toBe('unknown');
    }
    const [question, ...more] = seen.questions;
    expect(more).toEqual([]);
    expect(question?.about).toBe(crop === null ? undefined : 'crop');
    if (crop !== null) expect(question.options[question.proposed].value).toBe(crop);
    const again = recogniseColumns(sources[0], 'corn', { crop: crop ?? 'corn' });
    expect([again.questions, again.check?.fits.length]).toEqual([[], expect.any(Number)]);
    expect(Math.abs((again.check?.fits[0]?.ratio ?? NaN) - 1)).toBeLessThan(0.002);
  });
});
