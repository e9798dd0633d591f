import { z } from 'zod';
import { nameText } from './name-text.ts';

const end = z.number().nullable().default(null);
const names = z.array(z.string().min(1).max(200)).min(1);

interface Range {
  readonly from: number | null;
  readonly to: number | null;
}
const asksSomething = ({ from, to }: Range) => from !== null || to !== null;
const rightWayRound = ({ from, to }: Range) => from === null || to === null || from <= to;
const NO_END = 'neither from nor to: a condition asks for one of them';
const WRONG_WAY = 'from over to: no ground can meet both';

const condition = z.discriminatedUnion('on', [
  z
    .strictObject({ on: z.literal('environment'), from: end, to: end })
    .refine(asksSomething, NO_END)
    .refine(rightWayRound, WRONG_WAY)
    .describe('Yield environment, bu/ac, ends included.'),
  z
    .strictObject({
      on: z.literal('layer'),
      layer: z.string().min(1).max(80),
      unit: z.string().max(20).default('').describe('Unit of from and to; empty goes by that of the layer.'),
      from: end,
      to: end,
    })
    .refine(asksSomething, NO_END)
    .refine(rightWayRound, WRONG_WAY)
    .describe(
      'A layer of the evidence, or a column of numbers of the soil map, by its name: mean over the ground, ends included.',
    ),
  z.strictObject({ on: z.literal('soil'), anyOf: names }).describe('Soil map units by name.'),
  z
    .strictObject({ on: z.literal('soil attribute'), attribute: z.string().min(1).max(80), anyOf: names })
    .describe('What the soil map says in words in the column of this name, as a drainage class.'),
  z.strictObject({ on: z.literal('zone'), anyOf: z.array(nameText).min(1) }).describe('Zones by name.'),
]);

/** One sentence of an agronomist about a product and ground. */
export const placementRule = z.strictObject({
  verdict: z
    .enum(['never', 'care', 'best'])
    .describe('never: must not go there; care: should not, but may; best: belongs there.'),
  where: z.array(condition).default([]).describe('All of these must hold; none: everywhere.'),
  reason: z.string().min(1).max(400).describe('Ends the sentence `not here because …`.'),
  by: z.string().max(80).default('').describe('Who says so.'),
});
