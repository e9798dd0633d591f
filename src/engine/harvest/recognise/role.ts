/** What the columns of a harvest log can mean beside the yield. */
export const LOG_ROLES = [
  'flow',
  'mass',
  'distance',
  'swath',
  'interval',
  'moisture',
  'speed',
  'heading',
  'time',
  'date',
  'header',
  'pass',
] as const;

/** What a column of a point file can mean. */
export const ROLES = [
  'yield',
  ...LOG_ROLES,
  'crop',
  'product',
  'rate',
  'target',
  'elevation',
  'quality',
  'x',
  'y',
] as const;

export type Role = (typeof ROLES)[number];

/** Roles in the words a person reads. */
export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  yield: 'yield',
  flow: 'grain flow',
  mass: 'grain a record',
  distance: 'distance travelled',
  swath: 'swath width',
  interval: 'time a record',
  moisture: 'moisture',
  speed: 'speed',
  heading: 'heading',
  time: 'time',
  date: 'date',
  header: 'header state',
  pass: 'pass number',
  crop: 'crop',
  product: 'product',
  rate: 'rate as planted',
  target: 'target rate',
  elevation: 'elevation',
  quality: 'quality flag',
  x: 'easting or longitude',
  y: 'northing or latitude',
};

/** A column and the unit it is in: '' where it has none or goes without saying, `unknown` where it has one that cannot be told. */
export interface ColumnReading {
  readonly column: string;
  readonly unit: string;
}

/** What the columns mean; null where none has that meaning, or none has it beyond doubt. */
export type RecognisedColumns = Readonly<Record<Role, ColumnReading | null>>;

/** A column that may have a meaning. */
export interface Candidate extends ColumnReading {
  /** 0 to 1. */
  readonly confidence: number;
  readonly because: string;
}

export type QuestionAbout = `${Role} column` | `${Role} unit` | 'crop' | 'moisture basis' | 'bushel weight';

/** Something only a person can settle: two or more readings, each plausible. */
export interface ColumnQuestion {
  readonly about: QuestionAbout;
  /** A column name, a unit, a crop, `dry` or `wet`, a weight in lb. */
  readonly options: readonly {
    readonly value: string;
    readonly because: string;
    /** Of a column: the unit it is in; `unknown` where that is a question of its own. */
    readonly unit?: string;
    /** Of a crop: the column that holds it as a text, where a file holds several. */
    readonly column?: string;
  }[];
  /** Index of the option taken until somebody says otherwise. */
  readonly proposed: number;
}
