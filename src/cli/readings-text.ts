import type { SourceLedger } from '../engine/layers/source.ts';
import { TRIAL_ROLE_WORDS, type TrialReading } from '../formats/trials/trial-role.ts';
import { figure } from '../run/figures.ts';

/** What the columns of a trial table were taken for, and what became of its rows. */
export function readingsText(file: string, readings: readonly TrialReading[], ledger: SourceLedger): string {
  const aside = Object.entries(ledger.setAside).map(([reason, n]) => `${n} ${reason}`);
  return [
    `${file}: ${figure.count(ledger.used, 'plot')} used of ${ledger.read}${aside.length > 0 ? `, set aside ${aside.join(', ')}` : ''}`,
    ...readings.map(
      ({ role, column, unit, confidence }) =>
        `  ${TRIAL_ROLE_WORDS[role]}: ${column}${unit ? ` in ${unit}` : ''} (${confidence >= 1 ? 'sure' : `${figure.whole(100 * confidence)} % sure`})`,
    ),
  ].join('\n');
}
