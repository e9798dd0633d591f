import { z } from 'zod';
import { nameText } from './name-text.ts';

const end = z.number().nullable().default(null);

const condition = z.discriminatedUnion('on', [
  z.strictObject({ on: z.literal('environment'), from: end, to: end }).describe('Yield environment, bu/ac.'),
  z
    .strictObject({ on: z.literal('layer'), layer: z.string().min(1), from: end, to: end })
    .describe('A layer of the evidence by its name: mean over the ground, in its own unit.'),
  z
    .strictObject({ on: z.literal('soil'), anyOf: z.array(z.string().min(1)).min(1) })
    .describe('Soil map units by name.'),
  z.strictObject({ on: z.literal('zone'), anyOf: z.array(nameText).min(1) }).describe('Zones by name.'),
]);

/** One sentence of an agronomist about a product and ground. */
export const placementRule = z.strictObject({
  verdict: z
    .enum(['never', 'care', 'best'])
    .describe('never: must not go there; care: should not, but may; best: belongs there.'),
  where: z.array(condition).default([]).describe('All of these must hold; none: everywhere.'),
  reason: z.string().min(1).max(400),
  by: z.string().max(80).default('').describe('Who says so.'),
});
