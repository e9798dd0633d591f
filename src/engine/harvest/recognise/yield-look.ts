import type { YieldCheck } from './check-yield.ts';
import type { UnitSystem } from './choose-unit.ts';
import type { Meaning } from './meaning.ts';
import type { CropReading } from './recognise-crop.ts';
import type { Sample } from './sample.ts';
import type { Told } from './told.ts';

/** What a yield column is judged by. */
export interface YieldLook {
  readonly yields: readonly Meaning[];
  readonly check: YieldCheck | null;
  readonly crop: CropReading;
  readonly planned: string;
  readonly sample: Sample;
  readonly system: UnitSystem;
  readonly told: Told;
  readonly lbPerBu: number | null;
  /** Median, %; NaN where it is not recorded. */
  readonly moisture: number;
}
