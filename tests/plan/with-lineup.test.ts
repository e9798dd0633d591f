import { describe, expect, it } from 'vitest';
import { lineupFile, withLineup } from '../../src/plan/edits/with-lineup.ts';
import { readPlan } from '../../src/plan/validate.ts';
import { plan } from './small-plan.ts';

const other = { file: 'other.json', sha256: 'a'.repeat(64) };

describe('a plan with another lineup', () => {
  it('names the new file in the place of the old, and keeps all else', () => {
    const before = plan({ lineup: { source: 'lineup', leaveOut: ['dull-1'] } });
    const after = withLineup(before, other);
    expect(lineupFile(after)).toMatchObject(other);
    expect(after.lineup).toEqual(before.lineup);
    expect(after.sources.map(({ id }) => id)).toEqual(before.sources.map(({ id }) => id));
    expect(readPlan(after, 'after').value).toEqual(after);
  });
  it('gains a source where it had none, under a name that is free', () => {
    const before = plan({ lineup: null });
    expect(lineupFile(before)).toBeNull();
    const after = withLineup(before, other);
    expect(after.lineup).toEqual({ source: 'lineup-2', leaveOut: [] });
    expect(lineupFile(after)).toMatchObject(other);
    expect(readPlan(after, 'after').value).toEqual(after);
  });
});
