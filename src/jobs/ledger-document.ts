import { z } from 'zod';
import type { RatedProduct } from '../engine/lineup/product.ts';
import { treatmentPrice } from '../engine/lineup/treated-seed.ts';
import type { Ledger, LedgerRow } from '../engine/prescription/ledger.ts';

const amounts = {
  acres: z.number(),
  seeds: z.int().min(0),
  units: z.number(),
  seedCost: z.number(),
  treatmentCost: z.number().describe('Part of the seed cost.'),
};

/** The ledger as documents carry it: international acres, whole seeds, units of seed, dollars. */
export const ledgerSchema = z.strictObject({
  byZone: z
    .array(
      z.strictObject({
        zone: z.int(),
        name: z.string(),
        product: z.string(),
        seedsPerAc: z.int(),
        ...amounts,
      }),
    )
    .min(1),
  byProduct: z
    .array(
      z.strictObject({
        product: z.string(),
        seedsPerUnit: z.number().positive(),
        pricePerUnit: z.number().min(0).describe('Treatments bought are in it.'),
        treatmentsPerUnit: z.number().min(0),
        ...amounts,
      }),
    )
    .min(1),
  total: z.strictObject(amounts),
  order: z
    .array(
      z.strictObject({
        product: z.string(),
        seeds: z.int().min(0),
        spareSeeds: z.int().min(0),
        units: z.number().min(0).describe('Whole ones, spare and treatments in them.'),
        boxes: z.int().min(0).nullable(),
        cost: z.number(),
      }),
    )
    .min(1),
});

/** `lineup` is the list of products the ledger's indices refer to. */
export function ledgerDocument(
  ledger: Ledger,
  lineup: readonly RatedProduct[],
): z.output<typeof ledgerSchema> {
  const amountsOf = ({ acres, seeds, units, seedCost, treatmentCost }: LedgerRow) => ({
    ...{ acres, seeds, units, seedCost, treatmentCost },
  });
  return {
    byZone: ledger.byZone.map((row) => ({
      zone: row.zone,
      name: row.name,
      product: row.productName,
      seedsPerAc: row.seedsPerAc,
      ...amountsOf(row),
    })),
    byProduct: ledger.byProduct.map((row) => ({
      product: row.productName,
      seedsPerUnit: lineup[row.product].seedsPerUnit,
      pricePerUnit: lineup[row.product].pricePerUnit,
      treatmentsPerUnit: treatmentPrice(lineup[row.product].treatments),
      ...amountsOf(row),
    })),
    total: amountsOf(ledger.total),
    order: ledger.order.map(({ productName, seeds, spareSeeds, units, boxes, cost }) => ({
      ...{ product: productName, seeds, spareSeeds, units, boxes, cost },
    })),
  };
}
