import { z } from 'zod';
import { LOG_ROLES } from '../engine/harvest/recognise/role.ts';
import { YIELD_UNITS } from '../engine/harvest/yield-unit.ts';
import { cleaningSchema } from './cleaning-schema.ts';
import { soilsSchema } from './soils-schema.ts';
import { sourceId } from './source-id.ts';

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

/** Everything measured or mapped about the ground, and how it is read. */
export const evidenceSchema = z.strictObject({
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
