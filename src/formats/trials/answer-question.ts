import type { TrialOptions } from './trial-options.ts';
import { TRIAL_ROLE_WORDS, type TrialQuestion, type TrialRole } from './trial-role.ts';

/** What is said of a trial table once a question of it is answered with one of its options. */
export function withAnswer<Said extends TrialOptions>(
  said: Said,
  { about, column }: Pick<TrialQuestion, 'about' | 'column'>,
  value: string,
): Said {
  const [role, kind] = partsOf(about);
  switch (kind) {
    case 'across':
      return { ...said, across: value as NonNullable<TrialOptions['across']> };
    case 'basis':
      return { ...said, basis: value as NonNullable<TrialOptions['basis']> };
    case 'commas':
      return { ...said, commas: { ...said.commas, [column]: value as 'thousands' | 'decimals' } };
    case 'codes':
      return { ...said, codes: { ...said.codes, [column]: value as 'not known' | 'figures' } };
    case 'blanks':
      return { ...said, blanks: { ...said.blanks, [column]: value as 'as above' | 'not known' } };
    case 'unit':
      return { ...said, units: { ...said.units, [role]: value } };
    default:
      return { ...said, columns: { ...said.columns, [role]: value } };
  }
}

/** A question in the words a person is asked in. */
export function questionText({ about, column }: Pick<TrialQuestion, 'about' | 'column'>): string {
  const [role, kind] = partsOf(about);
  const words = Object.hasOwn(TRIAL_ROLE_WORDS, role) ? TRIAL_ROLE_WORDS[role as TrialRole] : role;
  switch (kind) {
    case 'across':
      return `What do the columns ${column} stand for?`;
    case 'basis':
      return `Are the yields in ${column} wet or dry?`;
    case 'commas':
      return `What do the commas in ${column} mean?`;
    case 'codes':
      return `Were all figures in ${column} measured?`;
    case 'blanks':
      return `What do the blanks in ${column} mean?`;
    case 'unit':
      return `In which unit is the ${words}, ${column}?`;
    default:
      return `Which column is the ${words}?`;
  }
}

function partsOf(about: TrialQuestion['about']): readonly [role: string, kind: string] {
  const cut = about.lastIndexOf(' ');
  return [about.slice(0, cut), about.slice(cut + 1)];
}
