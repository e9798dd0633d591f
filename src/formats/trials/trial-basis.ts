import type { MoistureBasis } from '../../engine/harvest/moisture-basis.ts';
import { bushelAndBase } from '../../engine/harvest/yield-unit.ts';
import type { Issue } from '../../engine/issue.ts';
import type { RowCrops } from './crops-of-rows.ts';
import type { TrialColumns } from './trial-columns.ts';
import { trialIssue } from './trial-issues.ts';
import type { TrialOptions } from './trial-options.ts';
import { basisNamed } from './trial-words.ts';

/** Wet, dry or without any water, as stated or as the yield's name says; `unknown` yields are taken as they are. */
export function basisOfTable(
  columns: TrialColumns,
  crops: RowCrops,
  options: TrialOptions,
  file: string,
): { basis: MoistureBasis | 'dry matter'; issues: Issue[] } {
  const name = columns.yield?.column.name ?? '';
  const basis = options.basis ?? basisNamed(name) ?? 'unknown';
  const where = `${file} › ${name}`;
  const bases = crops.crops.map((crop) => {
    const base = bushelAndBase(crop)?.baseMoisture_pct;
    return base === undefined ? `${crop}, whose base is not known here` : `${crop} at ${base} %`;
  });
  const expected = `yields dry at the moisture they are sold at: ${bases.join(', ')}`;
  if (basis === 'dry matter' || (basis === 'wet' && columns.moisture)) {
    const from = basis === 'wet' ? `wet yields and their moisture` : 'yields of dry matter';
    const effect =
      'They are brought to that moisture by the water alone; a crop without a base stays as it is';
    return {
      basis,
      issues: [trialIssue('note', 'trial-to-base', where, from, expected, effect, 'Nothing to do')],
    };
  }
  if (basis === 'wet') {
    const effect = 'They are taken as they are';
    return {
      basis: 'unknown',
      issues: [
        trialIssue(
          'warning',
          'trial-wet',
          where,
          'wet yields, but no moisture',
          expected,
          effect,
          'Add a column of moistures',
        ),
      ],
    };
  }
  if (basis === 'unknown' && columns.moisture && !columns.basis) {
    const effect = 'They are taken as dry';
    return {
      basis,
      issues: [
        trialIssue(
          'note',
          'trial-basis',
          where,
          'moistures, but no word whether yields are wet or dry',
          expected,
          effect,
          'State that they are wet if so',
        ),
      ],
    };
  }
  return { basis, issues: [] };
}
