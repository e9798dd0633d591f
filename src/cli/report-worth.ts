import { z } from 'zod';
import { verdictOf } from '../engine/rates/verdict.ts';
import type { Plan } from '../plan/schema.ts';
import { portfolioSentences } from '../run/portfolio-words.ts';
import type { PriceGrid } from '../run/price-grid.ts';
import type { Results } from '../run/results.ts';
import { worthSentences } from '../run/worth-words.ts';

const number = z.number();

export const chancesSchema = z
  .object({ mean: number, low: number, high: number, ahead: number })
  .describe('Over the drawn worlds, $/ac: mean, the ends nine in ten lie between, the share over 0.');

/** What the plan is worth, how sure that is, and what other prices would make of it. */
export const worthSchema = z.object({
  perAc: number,
  perField: number,
  marginPerAc: number,
  flat: z.object({ product: z.string(), seedsPerAc: z.int(), marginPerAc: number }),
  parts: z
    .object({ ratesPerAc: number, productsPerAc: number })
    .nullable()
    .describe('What rates bring, and what placing products brings besides.'),
  verdict: z.enum(['map', 'flat', 'loses']),
  sure: z
    .object({
      draws: z.int(),
      gain: chancesSchema.describe('Of the plan over the flat plan.'),
      knowingPerAc: number.describe('What better trials and evidence could bring at most.'),
      usual: z
        .object({
          product: z.string(),
          seedsPerAc: z.int(),
          perAc: number,
          perField: number,
          chances: chancesSchema,
        })
        .nullable(),
      ground: z.object({
        from: z.enum(['years', 'assumed']),
        levelSd_buPerAc: number,
        zoneSd_buPerAc: z.array(number),
      }),
      takenAsSure: z
        .array(z.string())
        .describe('Products of which the lineup does not say how sure they are.'),
    })
    .nullable(),
  limits: z
    .array(z.object({ limit: z.string(), says: z.string(), costsPerAc: number.nullable() }))
    .describe('Limits on products that cost the field something, each taken off by itself.'),
  byHand: z
    .array(z.object({ zone: z.int(), perAc: number, perField: number }))
    .describe('What each choice by hand costs.'),
  prices: z
    .array(
      z.object({
        grainPrice_perBu: number,
        seedShare: number.describe('What seed costs, as a share of what it does.'),
        perAc: number.nullable().describe('Null where no plan can be made.'),
        otherProducts: z.int().nullable().describe('Zones that would have another product.'),
        seedsShare: number.nullable().describe('Seeds of the field over those of the plan as it is.'),
      }),
    )
    .describe('The worth were prices others and the field planned anew by them.'),
  said: z.array(z.string()),
});

export function worthReport(
  results: Results,
  plan: Plan,
  prices: PriceGrid | null,
): z.output<typeof worthSchema> | null {
  const { worth, sure, lineup } = results;
  if (worth === null) return null;
  return {
    perAc: worth.perAc,
    perField: worth.perField,
    marginPerAc: worth.marginPerAc,
    flat: {
      product: lineup[worth.flat.product].name,
      seedsPerAc: worth.flat.seedsPerAc,
      marginPerAc: worth.flat.marginPerAc,
    },
    parts: worth.parts,
    verdict: verdictOf(worth.perAc, sure?.gain ?? null, sure?.mapCost_perAc),
    sure: sure && {
      draws: sure.draws,
      gain: sure.gain,
      knowingPerAc: sure.knowingPerAc,
      usual: sure.usual && { ...sure.usual, product: lineup[sure.usual.product].name },
      ground: { ...sure.ground, zoneSd_buPerAc: [...sure.ground.zoneSd_buPerAc] },
      takenAsSure: sure.takenAsSure.map((product) => lineup[product].name),
    },
    limits: results.limits.map((own) => ({ ...own })),
    byHand: results.hands.map((own) => ({ ...own })),
    prices: (prices?.cells ?? []).flatMap((row, k) =>
      row.map((cell, j) => ({
        grainPrice_perBu: prices?.grainPrice_perBu[j] ?? 0,
        seedShare: prices?.seedShare[k] ?? 0,
        perAc: cell?.perAc ?? null,
        otherProducts: cell?.otherProducts ?? null,
        seedsShare: cell?.seedsShare ?? null,
      })),
    ),
    said: [...worthSentences(results, plan), ...portfolioSentences(results)],
  };
}
