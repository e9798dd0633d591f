import type { Issue } from '../../engine/issue.ts';
import type { RowCrops } from './crops-of-rows.ts';
import type { TrialColumns } from './trial-columns.ts';
import { trialIssue } from './trial-issue.ts';
import type { TrialOptions } from './trial-options.ts';
import type { TrialUnits } from './trial-units.ts';
import { USUAL_EMERGENCE } from './usual-stand.ts';

/** Plants a seed of a crop where a row does not tell: as stated, else as usual, NaN for a crop without a usual one. */
export function emergenceOf(crop: string, { emergence }: TrialOptions): number {
  if (emergence !== undefined) return emergence;
  return Object.hasOwn(USUAL_EMERGENCE, crop) ? USUAL_EMERGENCE[crop] : NaN;
}

/** Where the stands come from, where it is not simply a column of them. */
export function standIssues(
  columns: TrialColumns,
  units: TrialUnits,
  crops: RowCrops,
  options: TrialOptions,
  file: string,
): Issue[] {
  const share = units.stand?.unit === '%' ? columns.stand : columns.emergence;
  if (units.stand && units.stand.unit !== '%') return [];
  if (!units.rate)
    return [
      trialIssue(
        'warning',
        'trial-without-stands',
        file,
        share ? `${share.column.name}: a share of seeds, but no seeding rate` : 'no column of stands',
        'plants standing, or seeds and their emergence',
        'The plots tell of products and sites, not of how yield answers to stand',
        'Add a column of stands, or state which it is',
      ),
    ];
  if (share || options.emergence !== undefined) return [];
  const known = crops.crops.filter((crop) => !Number.isNaN(emergenceOf(crop, options)));
  const unknown = crops.crops.filter((crop) => !known.includes(crop));
  const issues: Issue[] = [];
  if (known.length > 0)
    issues.push(
      trialIssue(
        'warning',
        'trial-emergence-assumed',
        `${file} › ${columns.rate?.column.name}`,
        'seeding rates, but neither stands nor emergence',
        'plants standing, or the share of seeds that came up',
        `Stands are taken as seeds times ${known.map((crop) => `${emergenceOf(crop, options)} (${crop})`).join(', ')}, as is common`,
        'State the emergence, or add a column of it',
      ),
    );
  if (unknown.length > 0)
    issues.push(
      trialIssue(
        'warning',
        'trial-emergence-unknown',
        `${file} › ${columns.rate?.column.name}`,
        `seeding rates of ${unknown.join(', ')}, but neither stands nor emergence`,
        'plants standing, or the share of seeds that came up',
        'Their plots have no stand',
        'State the emergence, or add a column of it',
      ),
    );
  return issues;
}
