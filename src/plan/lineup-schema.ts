import { z } from 'zod';
import { nameText } from './name-text.ts';

const plants = z.number().positive().max(1_000_000);

const product = z.strictObject({
  id: z.string().min(1).max(40),
  name: nameText,
  crop: z.string().min(1).max(40),
  maturity: z.string().max(20).default(''),
  seedsPerUnit: z.int().positive(),
  pricePerUnit: z.number().min(0),
  tested_plantsPerAc: z.strictObject({ min: plants, max: plants }),
  response: z.strictObject({
    family: z.enum(['quadratic', 'quadratic-plateau']),
    reference_buPerAc: z.number().positive(),
    yieldAtReference_buPerAc: z.number().positive(),
    yieldPerEnvironment: z.number().default(1),
    optimum_plantsPerAc: plants,
    optimumPerEnvironment_plantsPerAc: z.number().default(0),
    curvature_buPerAc: z.number().positive(),
  }),
  trialSites: z.int().min(0).nullable().default(null),
});

/** The lineup document: the products on offer with what is known of each. Figures as in `engine/lineup/product.ts`. */
export const lineupSchema = z
  .strictObject({
    document: z.literal('eachacre-lineup'),
    version: z.literal(1),
    name: z.string().min(1).max(120),
    products: z.array(product),
  })
  .meta({ title: 'Eachacre lineup, version 1' });

export type Lineup = z.output<typeof lineupSchema>;
