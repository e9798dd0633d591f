import { z } from 'zod';
import { sourceId } from './source-id.ts';

const tableStep = z.strictObject({
  source: sourceId.describe('A table whose rows are joined.'),
  fromKey: z.string().min(1).describe('Column of the polygons, or of the table before, that holds the key.'),
  toKey: z.string().min(1).describe('Column of this table that holds it.'),
  where: z
    .strictObject({ column: z.string().min(1), equals: z.string().min(1) })
    .nullable()
    .default(null)
    .describe('Only rows of the table where this column holds this text (case ignored).'),
  weight: z
    .string()
    .min(1)
    .nullable()
    .default(null)
    .describe(
      'Column by which several rows of one key are averaged, as component percent; null counts them alike.',
    ),
  depth: z
    .strictObject({
      top: z.string().min(1).describe('Column of the top of a horizon, cm.'),
      bottom: z.string().min(1).describe('Column of its bottom, cm.'),
      from_cm: z.number().min(0).default(0),
      to_cm: z.number().positive().max(1000).default(30),
      how: z
        .enum(['mean', 'sum'])
        .default('mean')
        .describe(
          'mean: horizons are averaged by how much of the depth they fill; sum: value times thickness added up, as available water (cm/cm) to water held (cm).',
        ),
    })
    .nullable()
    .default(null)
    .describe('Rows are horizons, counted by how much of the depth they fill.'),
});

/** Soil polygons and the tables between them and a value. */
export const soilsSchema = z.strictObject({
  source: sourceId,
  label: z.string().nullable().default(null).describe('Column that names the soil map unit.'),
  column: z.string().min(1).describe('Column that holds the value.'),
  meaning: z
    .enum(['yield', 'index'])
    .describe(
      'yield: the value is a yield rating in bu/ac; index: higher ground of it yields more, by environment.soilSpread.',
    ),
  join: z
    .array(tableStep)
    .max(4)
    .default([])
    .describe('Tables from the polygons to the value, one joined to the next; the column is of the last.'),
});
