import { z } from 'zod';
import type { Product, RatingScale } from '../engine/lineup/product.ts';
import type { FamilyId } from '../engine/response/family.ts';
import { nameText } from './name-text.ts';
import { placementRule } from './placement-schema.ts';

/** Small grains stand at over a million to the acre. */
const plants = z.number().positive().max(4_000_000);
const figure = z.number();
const note = z.string().max(2000).default('');
const FAMILIES = [
  'quadratic',
  'quadratic-plateau',
  'linear-plateau',
  'density-decay',
  'parabolic-reciprocal',
  'mitscherlich',
  'holliday',
  'line',
] as const satisfies readonly FamilyId[];
const family = z.enum(FAMILIES);

const response = z.strictObject({
  family: family.describe('Form of the curve; it says what level, stand and bend are.'),
  reference_buPerAc: z.number().positive().describe('Yield environment level and stand are given at.'),
  level_buPerAc: z.number().positive().describe('Yield at the best stand, or what the curve climbs towards.'),
  levelPerEnvironment: figure.default(1).describe('Its change per bu/ac of environment.'),
  stand_plantsPerAc: plants.describe('The best stand, or another as the family has it.'),
  standPerEnvironment_plantsPerAc: figure.default(0).describe('Its change per bu/ac of environment.'),
  bend: figure.nullable().default(null).describe("The family's own figure, by 1000 plants/ac."),
  uncertainty: z
    .strictObject({
      covariance: z
        .array(figure)
        .length(15)
        .describe(
          'Lower triangle, row by row, of the covariance of level, level per environment, stand, stand per environment and bend.',
        ),
      df: z.number().min(0),
      plotSd_buPerAc: z.number().min(0),
      siteSd_buPerAc: z.number().min(0),
    })
    .nullable()
    .default(null),
});

const fit = z.strictObject({
  plots: z.int().min(0),
  sites: z.int().min(0),
  runnerUp: z.strictObject({ family, aiccMore: figure }).nullable(),
  leaning: z.number().min(0).max(1).describe("Share of the stand that is the group's."),
  said: z.array(z.string()).describe('What was done and what is in doubt, in words.'),
});

const product = z.strictObject({
  id: z.string().min(1).max(40),
  name: nameText,
  crop: z.string().min(1).max(40),
  maturity: z.string().max(20).default('').describe('Relative maturity, days or group.'),
  gddToMaturity: z
    .number()
    .positive()
    .max(10_000)
    .nullable()
    .default(null)
    .describe('Growing degree days, 86/50 °F, from planting to black layer.'),
  seedsPerUnit: z.int().positive(),
  pricePerUnit: z.number().min(0).nullable().default(null),
  treatments: z
    .array(
      z.strictObject({
        name: nameText,
        pricePerUnit: z.number().min(0),
        protectsAgainst: z.array(z.string().min(1)).default([]),
      }),
    )
    .default([]),
  traits: z
    .array(
      z.strictObject({
        name: nameText,
        refuge: z
          .strictObject({
            share: z.number().min(0).max(1),
            kind: z.enum(['blended', 'separate']),
            note: z.string().max(400).default(''),
          })
          .nullable()
          .default(null)
          .describe('As the label and the grower agreement say.'),
      }),
    )
    .default([]),
  ratings: z
    .array(z.strictObject({ of: z.string().min(1).max(80), value: figure, scale: z.string().min(1) }))
    .default([])
    .describe('On scales declared here. What was not rated is left out.'),
  stature: note,
  notes: note,
  meterNotes: note,
  stewardshipNotes: note,
  tested_plantsPerAc: z.strictObject({ min: plants, max: plants }).nullable().default(null),
  response: response.nullable().default(null),
  fit: fit.nullable().default(null),
  placement: z.array(placementRule).default([]),
  plots: z
    .strictObject({
      site: z.array(z.int().min(0)).describe('Index into the sites of the lineup.'),
      stand_plantsPerAc: z.array(plants.nullable()),
      yield_buPerAc: z.array(figure),
    })
    .nullable()
    .default(null),
});

const scale = z.strictObject({
  id: z.string().min(1).max(40),
  lowest: figure,
  highest: figure,
  best: z.enum(['lowest', 'highest']).describe('Which end of the scale is the better one.'),
});

const site = z.strictObject({
  name: z.string().max(120),
  year: z.int().min(1900).max(2200).nullable().default(null),
  environment_buPerAc: z.number().positive().max(1000).nullable().default(null),
  environmentTold: z
    .boolean()
    .default(true)
    .describe('False where it was worked out from the yields of the trials, and is so again with others.'),
});

/** The lineup document: the products on offer with what is known of each. Figures as in `engine/lineup/product.ts`. */
export const lineupSchema = z
  .strictObject({
    document: z.literal('eachacre-lineup'),
    version: z.literal(1),
    name: z.string().min(1).max(120),
    scales: z.array(scale).default([]),
    sites: z.array(site).default([]).describe('Trial sites, each in one year.'),
    products: z.array(product),
  })
  .meta({ title: 'Eachacre lineup, version 1' });

/** A lineup as read. */
export interface Lineup {
  readonly document: 'eachacre-lineup';
  readonly version: 1;
  readonly name: string;
  readonly scales: readonly RatingScale[];
  readonly sites: readonly LineupSite[];
  readonly products: readonly Product[];
}

/** A trial site of one crop in one year; the environment is null where it is not known. */
export interface LineupSite {
  readonly name: string;
  readonly year: number | null;
  readonly environment_buPerAc: number | null;
  readonly environmentTold: boolean;
}

/** A lineup as written by hand: whatever has a default may be left out. */
export type LineupInput = z.input<typeof lineupSchema>;

// What the schema lets through is a lineup.
({}) as z.output<typeof lineupSchema> satisfies Lineup;
