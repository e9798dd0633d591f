import type { FieldFrame } from '../engine/geodesy/field-frame.ts';
import type { Region } from '../engine/geometry/ring.ts';
import type { FieldGrid, Surface } from '../engine/grid/field-grid.ts';
import type { RuleReport } from '../engine/harvest/clean-harvest.ts';
import type { FlowDelay } from '../engine/harvest/flow-delay.ts';
import type { ColumnQuestion } from '../engine/harvest/recognise/role.ts';
import type { YearsTogether } from '../engine/harvest/years-together.ts';
import type { Issue } from '../engine/issue.ts';
import type { VariogramFit } from '../engine/layers/fit-variogram.ts';
import type { SourceLedger } from '../engine/layers/source.ts';
import type { PlacementCheck } from '../engine/lineup/placement-check.ts';
import type { RatedProduct } from '../engine/lineup/product.ts';
import type { Ledger } from '../engine/prescription/ledger.ts';
import type { PrescriptionFeature } from '../engine/prescription/prescription.ts';
import type { ZoneChoice } from '../engine/rates/assignment.ts';
import type { Worth } from '../engine/rates/worth.ts';
import type { Zoning } from '../engine/zones/zoning.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import type { JudgedWorth } from './stages/judge-worth.ts';
import type { HandPrice } from './stages/price-hands.ts';
import type { LimitPrice } from './stages/price-limits.ts';

export interface FieldResult {
  readonly frame: FieldFrame;
  readonly region: Region;
  readonly area_m2: number;
  readonly acres: number;
  readonly grid: FieldGrid;
  /** Where the heading came from. */
  readonly headingFrom: 'plan' | 'longest side';
  /** What was mended in the boundary, in words. */
  readonly changes: readonly string[];
}

export interface SurfaceSummary {
  /** Cells with a value, and the share of the field's area they cover. */
  readonly known: number;
  readonly knownShare: number;
  readonly mean: number;
  readonly sd: number;
  readonly min: number;
  readonly max: number;
}

/** Points of a yield map in the field frame, kept and set aside, for drawing. */
export interface YieldPoints {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly value: Float64Array;
  /** 0 kept, else 1 + index into `reasons`. */
  readonly state: Uint8Array;
  readonly reasons: readonly string[];
}

export interface YieldLayer {
  readonly kind: 'yield';
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly year: number | null;
  /** Crop harvested; null is the planned one. */
  readonly crop: string | null;
  readonly use: boolean;
  readonly weight: number;
  readonly unusual: boolean;
  readonly values: Surface;
  /** Standard error of the values, same unit; null where the method has none. */
  readonly error: Surface | null;
  /** Points behind each cell. */
  readonly support: Uint32Array;
  /** How points became a surface, in words. */
  readonly method: string;
  readonly summary: SurfaceSummary;
  readonly points: YieldPoints;
  /** Every rule in its order: whether it could be tried, and what it set aside. */
  readonly cleaning: readonly RuleReport[];
  readonly delay: DelayUsed;
  /** Of the kept points, where the surface was kriged. */
  readonly variogram: VariogramFit | null;
  /** Readings of the file only a person can settle, while they are open. */
  readonly questions: readonly ColumnQuestion[];
  /** What was taken for what: `yield bu/ac, dry`, `swath in`. */
  readonly readings: readonly string[];
}

/** Seconds by which yields were moved back to where they were cut. */
export interface DelayUsed {
  readonly delay_s: number;
  readonly from: 'the plan' | 'the data' | 'not known';
  /** Null where the log has no order of time to look along. */
  readonly estimate: FlowDelay | null;
}

/** Something else that is known of the ground, looked at and not counted. */
export interface OtherLayer {
  readonly kind: 'other';
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly values: Surface;
  readonly error: Surface | null;
  readonly summary: SurfaceSummary;
  readonly method: string;
  readonly variogram: VariogramFit | null;
}

export interface SoilLayer {
  readonly kind: 'soil';
  readonly id: string;
  readonly label: string;
  /** Column of the value, and of the names of the map units where there is one. */
  readonly column: string;
  readonly nameColumn: string | null;
  readonly unit: string;
  readonly values: Surface;
  readonly summary: SurfaceSummary;
  /** Map units inside the field: name, value, area, shape for drawing, and what else the map says of them by column. */
  readonly mapUnits: readonly {
    readonly name: string;
    readonly value: number;
    readonly area_m2: number;
    readonly region: Region;
    readonly columns: ReadonlyMap<string, string | number>;
  }[];
  readonly covered_m2: number;
}

export interface Environment {
  /** Yield environment, bu/ac. */
  readonly values: Surface;
  readonly summary: SurfaceSummary;
  readonly expected_buPerAc: number;
  /** Whatever speaks in some cell, joined by `and`: `yield maps`, `soil ratings`, `soil index`; or `nothing known`. */
  readonly from: string;
  /** Standard error of the values, bu/ac, the field's expected yield taken as sure; NaN where nothing tells. */
  readonly error: Surface;
  readonly errorFrom: YearsTogether['errorFrom'];
  /** Standard deviation between years of yield relative to the year's level; NaN where fewer than two are known. */
  readonly spread: Surface;
  /** Years in the mean, by cell; 0 where none. */
  readonly years: Uint8Array;
  /** Yield maps in use, in the plan's order. */
  readonly levels: readonly YearLevel[];
}

/** How a yield map came into the mean of years. */
export interface YearLevel {
  readonly id: string;
  /** What that year gave, or would have given, over the known ground, in the map's own unit. */
  readonly level: number;
  /** Share of the whole weight; 0 for a year called unusual. */
  readonly share: number;
  /** Correlation of its pattern with the mean of the other years; NaN without others on the same ground. */
  readonly agreement: number;
}

export interface SourceAccount extends SourceLedger {
  readonly id: string;
  readonly file: string;
  readonly format: string;
  readonly role: 'boundary' | 'soils' | 'soil table' | 'yield' | 'layer' | 'lineup' | 'not used';
}

/** Everything a run found. What it could not reach is null, and an issue says why. */
export interface Results {
  readonly field: FieldResult | null;
  readonly sources: readonly SourceAccount[];
  readonly soils: SoilLayer | null;
  readonly yields: readonly YieldLayer[];
  readonly layers: readonly OtherLayer[];
  readonly environment: Environment | null;
  readonly zoning: Zoning | null;
  /** Products considered: indices everywhere else refer to this list. */
  readonly lineup: readonly RatedProduct[];
  /** The lineup as it was read, with what is not considered; null without one. */
  readonly lineupDocument: Lineup | null;
  /** What the placement rules say, by zone and then by product of `lineup`; null while there are no zones or no products. */
  readonly placement: readonly (readonly PlacementCheck[])[] | null;
  readonly choices: readonly ZoneChoice[] | null;
  /** Limits on products that cost the field something. */
  readonly limits: readonly LimitPrice[];
  /** What choices by hand cost. */
  readonly hands: readonly HandPrice[];
  readonly worth: Worth | null;
  /** How sure that is; null without a worth. */
  readonly sure: JudgedWorth | null;
  readonly ledger: Ledger | null;
  readonly prescription: readonly PrescriptionFeature[] | null;
  readonly issues: readonly Issue[];
}
