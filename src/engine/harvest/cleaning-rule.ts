import type { HarvestLog, Passes } from './harvest-log.ts';
import type { TravelFrame } from './travel-frame.ts';

/** A figure a rule goes by. The plan may change it within its limits; the usual one holds otherwise. */
export interface Threshold {
  /** Unit, '' for a share or a count. */
  readonly unit: string;
  readonly usual: number;
  readonly least: number;
  readonly most: number;
  /** What it is and why the usual figure is what it is, with its source; `common practice, no source` where there is none. */
  readonly why: string;
}

/** Thresholds by name, as set. */
export type Settings = Readonly<Record<string, number>>;

/** One reason to set records aside. Rules are tried in their order; a record carries the first that holds. */
export interface CleaningRule {
  /** Reason, kebab-case: `header-up`. */
  readonly id: string;
  /** The reason in words, as in `set aside: header up`. */
  readonly title: string;
  /** Where the rule comes from. */
  readonly source: string;
  readonly thresholds: Readonly<Record<string, Threshold>>;
  /**
   * Records to set aside (1), by record. `kept` is 1 for records no earlier rule set aside: a rule judges only those, and measures their neighbourhood
   * by them. Null when the log lacks what the rule needs: then it was not tried, which is told. `frame` is that of the log and its passes, for rules
   * tried one after another.
   */
  judge(
    log: HarvestLog,
    passes: Passes,
    kept: Uint8Array,
    settings: Settings,
    frame?: TravelFrame,
  ): Uint8Array | null;
}
