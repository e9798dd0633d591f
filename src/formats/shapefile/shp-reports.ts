import type { Issue } from '../../engine/issue.ts';
import { newTally, type Tally, tallyText } from '../tally.ts';

/** Records to be told of, by what is the matter with them. */
export type ShpTallies = Readonly<
  Record<'nulls' | 'notFinite' | 'several' | 'empty' | 'repairs' | 'winding' | 'numbers', Tally>
>;

export function shpTallies(): ShpTallies {
  return {
    nulls: newTally(),
    notFinite: newTally(),
    several: newTally(),
    empty: newTally(),
    repairs: newTally(),
    winding: newTally(),
    numbers: newTally(),
  };
}

const NO_PLACE = 'Their attributes are kept; they have no place';

const REPORTS: readonly [keyof ShpTallies, string, Issue['severity'], string, string][] = [
  ['nulls', 'no-geometry', 'warning', 'a shape in every record', NO_PLACE],
  ['notFinite', 'coordinate-not-finite', 'warning', 'coordinates that are numbers', NO_PLACE],
  ['several', 'several-points', 'warning', 'one point a record', NO_PLACE],
  ['empty', 'ring-too-short', 'warning', 'rings of three corners', NO_PLACE],
  ['repairs', 'ring-repaired', 'warning', 'closed rings of three corners', 'They are used as repaired'],
  [
    'winding',
    'ring-winding',
    'warning',
    'outer rings clockwise and holes counter-clockwise',
    'What lies inside what tells holes from outer rings, not their winding',
  ],
  [
    'numbers',
    'shp-record-number',
    'note',
    'records numbered from 1',
    'They are used in the order of the file',
  ],
];

export function shpReports(tallies: ShpTallies, where: string): Issue[] {
  return REPORTS.filter(([name]) => tallies[name].count > 0).map(
    ([name, code, severity, expected, effect]) => ({
      code,
      severity,
      where,
      found: tallyText(tallies[name], tallies[name].count === 1 ? 'record' : 'records'),
      expected,
      effect,
      remedy: 'Look at these records in their own program',
    }),
  );
}
