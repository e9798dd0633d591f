import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { random } from '../../src/engine/math/random.ts';
import { createDesk } from '../../src/jobs/desk.ts';

/** A yield log of 20 MB in an archive: as long to unpack as some hundred breaths. */
function archive() {
  const chance = random(7);
  const row = () =>
    `${(-93 + chance.uniform()).toFixed(8)},${(42 + chance.uniform()).toFixed(8)},${(200 * chance.uniform()).toFixed(2)}`;
  const text = Array.from({ length: 20_000 }, row).join('\n');
  return zipSync({ 'yield.csv': strToU8(Array(30).fill(text).join('\n')) }, { level: 1 });
}

describe('unpacking at the desk', () => {
  const request = { files: [{ name: 'y.zip', bytes: archive() }], name: 'x', season: 2027, crop: 'corn' };
  // Reading itself is another thread's: here it is out of the way.
  const desk = () => createDesk(async () => ({ sources: [], issues: [] }));

  it('tells how far it is', async () => {
    const steps: string[] = [];
    await desk().call('draft', request, { onProgress: ({ step }) => steps.push(step) });
    expect(steps[0]).toBe('Reading the files');
    expect(
      steps.filter((step) => /^Unpacking y\.zip › yield\.csv: \d+ of \d+ MB$/.test(step)).length,
    ).toBeGreaterThan(1);
  });

  it('hears a cancel in the midst of it', async () => {
    const abort = new AbortController();
    let unpacking = 0;
    const call = desk().call('draft', request, {
      signal: abort.signal,
      onProgress: ({ step }) => {
        if (!step.startsWith('Unpacking')) return;
        unpacking++;
        setTimeout(() => abort.abort(), 0);
      },
    });
    await expect(call).rejects.toThrow(/abort/i);
    expect(unpacking).toBeLessThanOrEqual(2);
  });
});
