import type { TrialQuestion } from './trial-role.ts';
import { roleNamed } from './trial-words.ts';
import { yieldUnitTold } from './unit-told.ts';

/** Of counts the commas part thousands, and of yields unless their unit makes that too much. */
export function commaQuestion(column: string): TrialQuestion {
  const role = roleNamed(column)?.role ?? 'yield';
  const unit = role === 'yield' || role === 'environment' ? yieldUnitTold(column, undefined)?.units[0] : null;
  const decimals = unit === undefined || unit === null ? false : unit !== 'kg/ha' && unit !== 'lb/ac';
  return {
    about: `${role} commas`,
    column,
    options: [
      { value: 'thousands', because: 'every number has three digits after its mark' },
      {
        value: 'decimals',
        because: decimals ? `usual figures in ${unit}` : 'a number may have three decimals',
      },
    ],
    proposed: decimals ? 1 : 0,
  };
}
