import { z } from 'zod';
import { evidenceSchema } from './evidence-schema.ts';
import { nameText } from './name-text.ts';
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
        'Of the bytes; of a loose shapefile, of the lines `extension sha256` of its members, of a loose task file, of the lines `name sha256` of it and the files of its folder; sorted, names and extensions in lower case.',
      ),
    crs: z
      .string()
      .regex(/^EPSG:\d{4,6}$/)
      .nullable()
      .default(null)
      .describe('Coordinate system to read it in when the file does not say.'),
    acceptNad27: z
      .boolean()
      .default(false)
      .describe('Place a file on NAD27 by a mean shift, to some 10 m; refused otherwise.'),
    swapLonLat: z
      .boolean()
      .default(false)
      .describe("Exchange its longitudes and latitudes, which stand in each other's place."),
    columns: z
      .array(z.string().min(1))
      .nullable()
      .default(null)
      .describe('Names of the columns of a text table without a header.'),
    headerLine: z
      .int()
      .min(1)
      .nullable()
      .default(null)
      .describe('Line of the header of a text table, from 1; null finds it.'),
    commas: z
      .record(z.string(), z.enum(['thousands', 'decimals']))
      .default({})
      .describe('By column: what a comma in its numbers means, where the file leaves both open.'),
    encoding: z
      .string()
      .min(1)
      .max(40)
      .nullable()
      .default(null)
      .describe('Encoding of its text, as windows-1252, where the file does not say.'),
    rowsInOrder: z
      .boolean()
      .default(false)
      .describe('Match the rows of a table to the shapes in order, though their numbers differ.'),
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
  planter: z
    .strictObject({
      row_in: z.number().min(4).max(80).describe('Width of a row, inches.'),
      speed_mph: z.number().min(0.5).max(20),
      mostSeedsPerSecond: z
        .number()
        .min(1)
        .max(1000)
        .describe('Most seeds a second its meter drops in a row.'),
    })
    .nullable()
    .default(null)
    .describe('What the planter can do; null sets no limit.'),
  treatments: z
    .array(z.string().min(1))
    .default([])
    .describe('Names of the seed treatments bought, of those the lineup offers with a product.'),
  spare: z.number().min(0).max(0.25).default(0).describe('Seed ordered over what is planted, as a share.'),
  unitsPerBox: z
    .number()
    .positive()
    .max(1000)
    .nullable()
    .default(null)
    .describe('Units in a box, where seed comes in boxes.'),
  leastAcres: z
    .number()
    .min(0)
    .max(100_000)
    .default(0)
    .describe('A product that is planted at all is planted to so many acres or more.'),
  mostShare: z
    .number()
    .gt(0)
    .max(1)
    .default(1)
    .describe('No product is planted to more than this share of the field.'),
  mustUse: z
    .array(z.string().min(1))
    .default([])
    .describe('Ids of products to be planted whatever they earn.'),
  onHand: z
    .array(z.strictObject({ product: z.string().min(1), units: z.number().min(0).max(1_000_000) }))
    .refine(
      (lines) => new Set(lines.map(({ product }) => product)).size === lines.length,
      'a product named twice: its units cannot be both',
    )
    .default([])
    .describe('Units there are of a product, where no more is to be had.'),
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

const worth = z
  .strictObject({
    draws: z.int().min(200).max(50_000).default(2000).describe('How many times what is not sure is drawn.'),
    priceSpread: z
      .number()
      .min(0)
      .max(0.5)
      .default(0.1)
      .describe('Standard deviation of the grain price, as a share of it. An assumption.'),
    levelSpread: z
      .number()
      .min(0)
      .max(0.5)
      .default(0.1)
      .describe(
        'Standard deviation of the yield of the whole field from year to year, as a share of it: over the years of its yield maps that evens out. An assumption.',
      ),
    apartSpread: z
      .number()
      .min(0)
      .max(0.5)
      .default(0.05)
      .describe(
        'How far products whose trials have nothing in common with those of the others may lie above or below them, as a share of the yield of the field. An assumption.',
      ),
    mapCost_perAc: z
      .number()
      .min(0)
      .max(1000)
      .default(0)
      .describe('What planting by map costs over planting flat, $/ac: it must bring more than that.'),
    yearToYear: z
      .number()
      .min(0)
      .max(0.5)
      .default(0.08)
      .describe(
        'How far a zone departs from itself from year to year, as a share of the yield of the field, where fewer than two years of yield maps tell. An assumption.',
      ),
    usual: z
      .strictObject({ product: z.string().min(1), seedsPerAc: z.int().positive().max(1_000_000) })
      .nullable()
      .default(null)
      .describe('What the grower usually plants: product by id, and one rate for the field.'),
  })
  .describe('How sure the worth is reckoned to be, and what else it is held against.');

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
    evidence: evidenceSchema.prefault({}),
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
    worth: worth.prefault({}),
    handoff: handoff.prefault({}),
    seed: z
      .int()
      .min(0)
      .default(1)
      .describe('Seed of the spots the proof looks up, and of the draws of the worth.'),
  })
  .meta({ title: 'Eachacre plan, version 1' });

export type Plan = z.output<typeof planSchema>;
/** A plan as written by hand: whatever has a default may be left out. */
export type PlanInput = z.input<typeof planSchema>;
