import type { TrialQuestion, TrialRole } from '../../../formats/trials/trial-role.ts';
import type { SaidOfLineupFile } from '../../../jobs/draft-lineup.ts';

/** What is said of a file once a question of it is answered. */
export function answerQuestion(
  said: SaidOfLineupFile,
  { about, column }: TrialQuestion,
  value: string,
): SaidOfLineupFile {
  if (about.endsWith(' commas'))
    return { ...said, commas: { ...said.commas, [column]: value as 'thousands' | 'decimals' } };
  const role = about.replace(/ (column|unit)$/, '') as TrialRole;
  if (about.endsWith(' unit')) return { ...said, units: { ...said.units, [role]: value } };
  return { ...said, columns: { ...said.columns, [role]: value } };
}
