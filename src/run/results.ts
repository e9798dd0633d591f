import type { FieldFrame } from '../engine/geodesy/field-frame.ts';
import type { Region } from '../engine/geometry/ring.ts';
import type { FieldGrid, Surface } from '../engine/grid/field-grid.ts';
import type { Issue } from '../engine/issue.ts';
import type { SourceLedger } from '../engine/layers/source.ts';
import type { Product } from '../engine/lineup/product.ts';
import type { Ledger } from '../engine/prescription/ledger.ts';
import type { PrescriptionFeature } from '../engine/prescription/prescription.ts';
import type { ZoneChoice } from '../engine/rates/assignment.ts';
import type { Worth } from '../engine/rates/flat-plan.ts';
import type { Zoning } from '../engine/zones/zoning.ts';

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
  readonly use: boolean;
  readonly values: Surface;
  readonly summary: SurfaceSummary;
  readonly points: YieldPoints;
}

export interface SoilLayer {
  readonly kind: 'soil';
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly values: Surface;
  readonly summary: SurfaceSummary;
  /** Map units inside the field: name, value, area, and shape for drawing. */
  readonly mapUnits: readonly {
    readonly name: string;
    readonly value: number;
    readonly area_m2: number;
    readonly region: Region;
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
  /** Years in the mean, by cell; 0 where none. */
  readonly years: Uint8Array;
  /** By yield map in use, in its own unit: what that year gave, or would have given, over the known ground. */
  readonly levels: readonly { readonly id: string; readonly level: number }[];
}

export interface SourceAccount extends SourceLedger {
  readonly id: string;
  readonly file: string;
  readonly format: string;
  readonly role: 'boundary' | 'soils' | 'soil table' | 'yield' | 'lineup' | 'not used';
}

/** Everything a run found. What it could not reach is null, and an issue says why. */
export interface Results {
  readonly field: FieldResult | null;
  readonly sources: readonly SourceAccount[];
  readonly soils: SoilLayer | null;
  readonly yields: readonly YieldLayer[];
  readonly environment: Environment | null;
  readonly zoning: Zoning | null;
  /** Products considered: indices everywhere else refer to this list. */
  readonly lineup: readonly Product[];
  readonly choices: readonly ZoneChoice[] | null;
  readonly worth: Worth | null;
  readonly ledger: Ledger | null;
  readonly prescription: readonly PrescriptionFeature[] | null;
  readonly issues: readonly Issue[];
}
