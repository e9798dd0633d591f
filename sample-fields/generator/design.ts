import type { FieldFrame } from '../../src/engine/geodesy/field-frame.ts';
import type { PlanInput } from '../../src/plan/schema.ts';
import type { GroundDesign, SeasonDesign } from './ground.ts';
import type { MapUnitDesign } from './soils.ts';
import type { LoggerDesign } from './yield-log.ts';

/** A point in turned metres: u to the right of the rows, v along them, from the middle of the field. */
export type Point = readonly [u: number, v: number];

/** A closed outline, not repeating its first point. */
export type Outline = readonly Point[];

export interface Part {
  readonly outer: Outline;
  readonly holes: readonly Outline[];
}

export interface HarvestDesign {
  readonly year: number;
  readonly season: SeasonDesign;
  readonly machine: MachineDesign;
  readonly log: LoggerDesign;
}

/** What the combine is and gets wrong. */
export interface MachineDesign {
  readonly header_ft: number;
  readonly speed_mph: number;
  /** From the header to the flow sensor, s; the spread smears the flow. */
  readonly delay_s: number;
  readonly smear_s: number;
  /** Where the first pass starts, as a share of the header: passes lie differently every year. */
  readonly offset: number;
  /** Wet mass is base mass × (100 − base) / (100 − moisture). */
  readonly moisture_pct: number;
}

/** Everything invented about a field. */
export interface FieldDesign {
  readonly folder: string;
  readonly name: string;
  readonly crop: 'corn' | 'soybean';
  readonly centre: FieldFrame;
  readonly heading_deg: number;
  readonly parts: readonly Part[];
  /** Fields come in all sorts of files. */
  readonly boundaryAs: 'geojson' | 'utm-shapefile';
  readonly soilsAs: 'geojson' | 'shapefile';
  readonly ground: GroundDesign;
  readonly soils: readonly MapUnitDesign[];
  readonly harvests: readonly HarvestDesign[];
  /** The plan, but for its sources, which the generator knows. */
  readonly plan: (sources: PlanInput['sources']) => PlanInput;
  /** Lower edges of the classes of ground accounted for in truth.json, bu/ac. */
  readonly truthClasses: readonly number[];
}
