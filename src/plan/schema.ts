import { z } from 'zod';
import { YIELD_UNITS } from '../engine/harvest/yield-unit.ts';
import { cleaningSchema } from './cleaning-schema.ts';
import { nameText } from './name-text.ts';
import { soilsSchema } from './soils-schema.ts';
import { sourceId } from './source-id.ts';

/**
 * The plan document, the one reference: types, JSON Schema, defaults and limits all come from here.
 * Every figure carries its unit in its name.
 */
const source = z
  .strictObject({
    id: sourceId.describe('Name used inside this plan.'),
    file: z
      .string()
      .min(1)
      .max(400)
      .describe('File, relative to the plan; a shapefile is named by its .shp or its .zip.'),
    sha256: z
      .string()
      .regex(/^[0-9a-f]{64}$/)
      .describe(
        'Of the bytes; of a loose shapefile, of the lines `extension sha256` of its members, sorted by extension.',
      ),
    crs: z
      .string()
      .regex(/^EPSG:\d{4,6}$/)
      .nullable()
      .default(null)
      .describe('Coordinate system to read it in when the file does not say.'),
  })
  .describe('A file the plan rests on.');

const field = z.strictObject({
  boundary: sourceId.describe('Source of the boundary.'),
  records: z
    .array(z.int().min(1))
    .min(1)
    .nullable()
    .default(null)
    .describe('Records of the boundary file that make the field, from 1; null takes all.'),
  crossing: z
    .enum(['refuse', 'split'])
    .default('refuse')
    .describe('A boundary that crosses itself: refuse it, or split it where it crosses and keep every lobe.'),
  heading_deg: z
    .number()
    .min(0)
    .lt(180)
    .nullable()
    .default(null)
    .describe('Planting heading, degrees clockwise from north; null follows the longest side.'),
  cell_m: z
    .number()
    .min(1)
    .max(200)
    .nullable()
    .default(null)
    .describe('Side of a grid cell, m; null takes 30 ft, or more on very large fields.'),
});

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

const logColumn = z.strictObject({
  column: z.string().min(1),
  unit: z.string().max(20).describe('Empty where it has none or goes without saying.'),
});

const yieldMap = z.strictObject({
  source: sourceId,
  column: z.string().min(1).describe('Column of yield.'),
  unit: z.enum(YIELD_UNITS).default('unknown'),
  year: z.int().min(1950).max(2200).nullable().default(null),
  crop: z
    .string()
    .min(1)
    .nullable()
    .default(null)
    .describe(
      'Crop harvested; null is the planned one. Maps of another crop (`unknown` too) tell where the ground is better, not how much it yields.',
    ),
  where: z
    .strictObject({ column: z.string().min(1), equals: z.string().min(1) })
    .nullable()
    .default(null)
    .describe('Only records where this column holds this text: one harvest out of a file of several.'),
  columns: z
    .strictObject(
      Object.fromEntries(LOG_ROLES.map((role) => [role, logColumn.nullable().default(null)])) as Record<
        (typeof LOG_ROLES)[number],
        z.ZodDefault<z.ZodNullable<typeof logColumn>>
      >,
    )
    .prefault({})
    .describe('What other columns mean, for the rules that need them.'),
  take: z
    .enum(['column', 'flow'])
    .default('column')
    .describe(
      'column: yield as the file gives it; flow: worked out again from flow, distance, swath and moisture.',
    ),
  moisture: z
    .enum(['dry', 'wet', 'unknown'])
    .default('unknown')
    .describe(
      'What the yield column counts: dry, at the moisture the crop is sold at; wet, as harvested (brought to dry by the moisture column where there is one).',
    ),
  bushel_lb: z
    .number()
    .min(10)
    .max(100)
    .nullable()
    .default(null)
    .describe('Weight of a bushel the file counts by, lb; null is that of the crop.'),
  expandDrier: z
    .boolean()
    .default(false)
    .describe(
      'Whether grain drier than it is sold at counts for more than it weighs. Buyers as a rule do not pay it.',
    ),
  delay_s: z
    .number()
    .min(-30)
    .max(60)
    .nullable()
    .default(null)
    .describe(
      'Seconds the grain takes to the sensor that the file has not yet taken off; null estimates them from the data.',
    ),
  weight: z.number().min(0).max(10).default(1).describe('How much the year counts in the mean of years.'),
  unusual: z
    .boolean()
    .default(false)
    .describe('A year called unusual is looked at and levelled, and not counted in the mean of years.'),
  surface: z
    .enum(['cell-means', 'cell-medians', 'kriging', 'inverse-distance'])
    .default('cell-means')
    .describe(
      'How points become a surface. The first two fill gaps of up to two cells and no further; the others suit sparse points.',
    ),
  open: z
    .array(z.string().min(1).max(60))
    .default([])
    .describe(
      'Readings of the file that are a guess between two plausible ones, until a person settles them.',
    ),
  use: z.boolean().default(true),
});

const otherLayer = z
  .strictObject({
    source: sourceId,
    column: z.string().min(1).describe('Column of points or polygons, or band of a raster.'),
    label: z.string().min(1).max(80),
    unit: z.string().max(20).default(''),
    surface: z
      .enum(['cell-means', 'cell-medians', 'kriging', 'inverse-distance'])
      .default('kriging')
      .describe('How points become a surface; rasters and polygons are shared out by area.'),
  })
  .describe(
    'Something else that is known of the ground, to be looked at: elevation, a soil test, a picture from above.',
  );

const evidence = z.strictObject({
  soils: soilsSchema.nullable().default(null),
  yields: z.array(yieldMap).default([]),
  yearsBy: z
    .enum(['relative', 'spread'])
    .default('relative')
    .describe(
      'How years are made comparable: yield over its level, or that with every year brought to the same spread.',
    ),
  layers: z.array(otherLayer).default([]),
  cleaning: cleaningSchema,
});

const environment = z.strictObject({
  expected_buPerAc: z
    .number()
    .positive()
    .max(1000)
    .nullable()
    .default(null)
    .describe(
      'Yield expected of the whole field in an average year; null takes the mean of the yield maps or ratings.',
    ),
  soilSpread: z
    .number()
    .min(0)
    .max(0.5)
    .default(0.1)
    .describe(
      'Where only a soil index is known: share of yield per standard deviation of the index. An assumption.',
    ),
});

const zones = z.strictObject({
  method: z.enum(['natural-breaks', 'fuzzy-c-means']).default('natural-breaks'),
  count: z.int().min(1).max(8).default(3),
  fuzziness: z
    .number()
    .gt(1)
    .max(4)
    .default(1.3)
    .describe('m of fuzzy c-means. 1.3 is common in this use, no source.'),
  smooth_m: z
    .number()
    .min(0)
    .max(200)
    .default(25)
    .describe('Spread of the smoothing before zones are drawn, m. Common practice, no source.'),
  smallest_ac: z
    .number()
    .min(0)
    .max(100)
    .default(0.5)
    .describe('Islands under this size join the neighbour they touch most.'),
  names: z.array(nameText).nullable().default(null).describe('From the poorest ground to the best.'),
});

const money = z.strictObject({
  currency: z.literal('USD').default('USD').describe('Dollars are the only money so far.'),
  grainPrice_perBu: z.number().positive().nullable().default(null),
  dryingHauling_perBu: z.number().min(0).default(0),
});

const rates = z.strictObject({
  emergence: z.number().min(0.3).max(1).default(0.95).describe('Plants standing per seed dropped.'),
  step_seedsPerAc: z.int().min(1).max(20000).default(500).describe('Rates are multiples of this.'),
  lowest_seedsPerAc: z.int().min(0).default(0),
  highest_seedsPerAc: z.int().positive().max(1_000_000).nullable().default(null),
  hoppers: z.int().min(1).max(4).default(2).describe('Most products in the field.'),
  byHand: z
    .array(
      z.strictObject({
        zone: z.int().min(1).describe('Zone number, from 1.'),
        product: z.string().min(1).nullable().default(null),
        seedsPerAc: z.int().positive().max(1_000_000).nullable().default(null),
      }),
    )
    .default([])
    .describe('Choices set by hand.'),
});

const handoff = z.strictObject({
  shape: z
    .enum(['cells', 'zones'])
    .default('cells')
    .describe('cells: a polygon a grid cell; zones: a polygon a zone and product.'),
  name: z
    .string()
    .regex(/^[A-Za-z][A-Za-z0-9_]{0,23}$/)
    .default('PRESC')
    .describe('Base name of the files: letter first, then letters, digits and _.'),
});

export const planSchema = z
  .strictObject({
    document: z.literal('eachacre-plan'),
    version: z.literal(1),
    name: z.string().min(1).max(120),
    season: z.int().min(1950).max(2200),
    crop: z.string().min(1).max(40).describe('corn, soybean, or any other crop by name.'),
    sources: z.array(source).min(1),
    field,
    evidence: evidence.prefault({}),
    environment: environment.prefault({}),
    zones: zones.prefault({}),
    lineup: z
      .strictObject({
        source: sourceId,
        leaveOut: z.array(z.string()).default([]).describe('Ids of products not to be used.'),
      })
      .nullable()
      .default(null),
    money: money.prefault({}),
    rates: rates.prefault({}),
    handoff: handoff.prefault({}),
    seed: z.int().min(0).default(1).describe('Seed of the spots the proof looks up.'),
  })
  .meta({ title: 'Eachacre plan, version 1' });

export type Plan = z.output<typeof planSchema>;
/** A plan as written by hand: whatever has a default may be left out. */
export type PlanInput = z.input<typeof planSchema>;
