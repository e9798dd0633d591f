/** What the columns of a trial table can mean. */
export const TRIAL_ROLES = [
  'product',
  'brand',
  'crop',
  'site',
  'trial',
  'year',
  'environment',
  'stand',
  'rate',
  'emergence',
  'yield',
  'moisture',
  'basis',
  'rep',
  'block',
] as const;

export type TrialRole = (typeof TRIAL_ROLES)[number];

/** Roles in the words a person reads. */
export const TRIAL_ROLE_WORDS: Readonly<Record<TrialRole, string>> = {
  product: 'product',
  brand: 'brand',
  crop: 'crop',
  site: 'site',
  trial: 'trial',
  year: 'year',
  environment: 'yield environment',
  stand: 'stand',
  rate: 'seeding rate',
  emergence: 'emergence',
  yield: 'yield',
  moisture: 'moisture',
  basis: 'moisture basis',
  rep: 'repetition',
  block: 'block',
};

/** Roles whose cells must be numbers; the others may be anything. */
export const NUMBER_ROLES: readonly TrialRole[] = [
  'environment',
  'stand',
  'rate',
  'emergence',
  'yield',
  'moisture',
];

/** What a column was taken for. */
export interface TrialReading {
  readonly role: TrialRole;
  readonly column: string;
  /** '' where it has none. */
  readonly unit: string;
  /** 0 to 1. */
  readonly confidence: number;
  readonly because: string;
}

/** Something only a person can settle: two or more readings, each plausible. The proposed one is used until somebody says otherwise. */
export interface TrialQuestion {
  readonly about:
    | `${TrialRole} ${'column' | 'unit' | 'commas' | 'codes' | 'blanks'}`
    | 'columns across'
    | 'moisture basis';
  /** The column asked about; of several the first and the last, as `22k … 42k`. */
  readonly column: string;
  /** What answers it (`withAnswer`): a column name, a unit, `thousands`, `not known`, `wet` … */
  readonly options: readonly { readonly value: string; readonly because: string }[];
  /** Index of the option taken. */
  readonly proposed: number;
}
