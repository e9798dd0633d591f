import type { CleaningRule, Settings } from './cleaning-rule.ts';
import type { HarvestLog, Passes } from './harvest-log.ts';
import { biologicalRange } from './rules/biological-range.ts';
import { coLocated } from './rules/co-located.ts';
import { globalOutlier } from './rules/global-outlier.ts';
import { headerUp } from './rules/header-up.ts';
import { localMoran } from './rules/local-moran.ts';
import { localOutlier } from './rules/local-outlier.ts';
import { moistureRange } from './rules/moisture-range.ts';
import { narrowSwath } from './rules/narrow-swath.ts';
import { noPosition } from './rules/no-position.ts';
import { noValue } from './rules/no-value.ts';
import { outsideField } from './rules/outside-field.ts';
import { overlap } from './rules/overlap.ts';
import { passEnd } from './rules/pass-end.ts';
import { passStart } from './rules/pass-start.ts';
import { positionJump } from './rules/position-jump.ts';
import { shortPass } from './rules/short-pass.ts';
import { speedChange } from './rules/speed-change.ts';
import { speedRange } from './rules/speed-range.ts';
import { tooHigh } from './rules/too-high.ts';
import { tooLow } from './rules/too-low.ts';
import { travelFrame } from './travel-frame.ts';

/** Without a place or a yield there is nothing to judge: these hold whatever the plan says. */
const NEEDED: readonly CleaningRule[] = [noPosition, noValue];

/** Facts about a record: they hold however many records they hold for. */
const FACTS: readonly CleaningRule[] = [noPosition, noValue, positionJump, outsideField, headerUp];

/**
 * All rules in the order they are tried: the six steps of Simbahan, Dobermann & Ping 2004, with what else is known to spoil a record (a jump of the position, speed,
 * swath, overlap) before the limits of yield, so that these see sound figures. Records written twice go before the neighbourhoods in which each would vouch for the other.
 */
export const CLEANING_RULES: readonly CleaningRule[] = [
  ...FACTS,
  ...[passStart, passEnd],
  ...[speedRange, speedChange, narrowSwath, coLocated, overlap],
  ...[moistureRange, biologicalRange, tooLow, tooHigh, globalOutlier],
  ...[localOutlier, localMoran],
  shortPass,
];

/** A rule that would set aside more than this share of what is left speaks of the log (a unit mistaken, a sensor never calibrated), not of records. Our own choice. */
const MOST_SET_ASIDE = 0.5;

/** What is done with a rule; a threshold not set has its usual figure. */
export interface RuleSetting {
  readonly use: boolean;
  readonly thresholds?: Settings;
}

/** How a rule went, for the account. */
export interface RuleReport {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly tried: boolean;
  /** Why it was not tried, in words; null where it was. */
  readonly untried: string | null;
  readonly setAside: number;
  readonly thresholds: Settings;
}

/** Records judged: 0 kept, else 1 + index into `reasons`. None is ever taken away. */
export interface CleanedHarvest {
  readonly state: Uint8Array;
  readonly reasons: readonly string[];
  readonly report: readonly RuleReport[];
}

/**
 * Try every rule in turn on the records still kept. `settings` by rule id; a rule without a setting is used with its usual figures. State 0 is kept, else 1 + index
 * into `reasons`: each record is kept or has one reason. `onProgress` gets the share of the rules done, 0–1.
 */
export function cleanHarvest(
  log: HarvestLog,
  passes: Passes,
  settings: Readonly<Record<string, RuleSetting>> = {},
  onProgress?: (done: number) => void,
): CleanedHarvest {
  const state = new Uint8Array(log.records);
  const kept = new Uint8Array(log.records).fill(1);
  const frame = travelFrame(log, passes);
  let left = log.records;
  const report = CLEANING_RULES.map((rule, index): RuleReport => {
    const setting = settings[rule.id];
    const thresholds = thresholdsOf(rule, setting?.thresholds);
    const { id, title, source } = rule;
    const untried = (why: string): RuleReport => ({
      ...{ id, title, source, thresholds },
      ...{ tried: false, untried: why, setAside: 0 },
    });
    onProgress?.(index / CLEANING_RULES.length);
    if (setting && !setting.use && !NEEDED.includes(rule)) return untried('the plan does not use it');
    const marks = rule.judge(log, passes, kept, thresholds, frame);
    if (!marks) return untried('the log does not record what it needs');
    const marked = keptAndMarked(kept, marks);
    const setAside = marked.length;
    if (!FACTS.includes(rule) && setAside > MOST_SET_ASIDE * left) {
      return untried(`it would set aside ${setAside} of ${left} records: the log is in doubt, not they`);
    }
    for (const i of marked) {
      kept[i] = 0;
      state[i] = index + 1;
    }
    left -= setAside;
    return { id, title, source, tried: true, untried: null, setAside, thresholds };
  });
  onProgress?.(1);
  return { state, reasons: CLEANING_RULES.map(({ id }) => id), report };
}

/** Most rules mark few of a million records, and none is found fastest by a search. */
function keptAndMarked(kept: Uint8Array, marks: Uint8Array): readonly number[] {
  const records: number[] = [];
  for (let i = marks.indexOf(1); i >= 0; i = marks.indexOf(1, i + 1)) if (kept[i]) records.push(i);
  return records;
}

/** The usual figures, with those that are set. */
function thresholdsOf(rule: CleaningRule, set: Settings = {}): Settings {
  return Object.fromEntries(
    Object.entries(rule.thresholds).map(([name, { usual }]) => [name, set[name] ?? usual]),
  );
}
