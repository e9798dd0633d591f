import { z } from 'zod';
import { ledgerSchema } from './ledger-document.ts';

/** `handoff.json`: what the files hold, by which anybody can check them. Areas in m² and international acres, rates in seeds/ac. */
export const handOffSchema = z
  .strictObject({
    document: z.literal('eachacre-handoff'),
    version: z.literal(1),
    plan: z.strictObject({ name: z.string(), season: z.int(), crop: z.string(), sha256: z.string() }),
    notice: z.string(),
    shape: z.enum(['cells', 'zones']),
    features: z.int().min(1),
    field: z.strictObject({ area_m2: z.number().positive(), acres: z.number().positive() }),
    columns: z.record(z.string(), z.string()),
    ledger: ledgerSchema,
    files: z.array(z.strictObject({ name: z.string(), bytes: z.int(), sha256: z.string() })).min(1),
  })
  .meta({ title: 'Eachacre hand-off, version 1' });

export type HandOffDocument = z.output<typeof handOffSchema>;

export const MANIFEST = 'handoff.json';

/** The caution every hand-off carries. */
export const NOTICE =
  'Rates are estimates from models and past seasons. The label, the seed tag, stewardship and refuge agreements and local rules come first. ' +
  'Treated seed is a pesticide-treated article: follow its tag, and keep it out of food, feed and oil. Check the planter against the map on the first round.';
