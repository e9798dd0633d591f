import { z } from 'zod';
import { ledgerSchema } from './ledger-document.ts';

/** Degrees on WGS 84. */
const extentSchema = z.strictObject({
  west: z.number(),
  south: z.number(),
  east: z.number(),
  north: z.number(),
});

/** `handoff.json`: what the files hold, by which anybody can check them. Areas in m² and international acres, rates in seeds/ac. */
export const handOffSchema = z
  .strictObject({
    document: z.literal('eachacre-handoff'),
    version: z.literal(1),
    plan: z.strictObject({
      name: z.string(),
      season: z.int(),
      crop: z.string(),
      sha256: z
        .string()
        .describe(
          'Of the plan as Eachacre writes it, with defaults filled in: JSON with two spaces of indent and a line end, UTF-8. A plan written by hand has another.',
        ),
    }),
    notice: z.string(),
    features: z.int().min(1),
    field: z.strictObject({
      area_m2: z.number().positive(),
      acres: z.number().positive(),
      extent: extentSchema.describe(
        'Of the boundary with its sides drawn straight in the plane of the field, where they bow a little in degrees.',
      ),
      cornerExtent: extentSchema.describe('Of the corners of the boundary alone.'),
    }),
    spots: z
      .array(
        z.strictObject({
          lon: z.number(),
          lat: z.number(),
          zone: z.int(),
          product: z.string(),
          seedsPerAc: z.int(),
        }),
      )
      .describe(
        'Centres of cells, and what is to be planted there by the grid and the ledger, not by the polygons.',
      ),
    columns: z.record(z.string(), z.string()),
    ledger: ledgerSchema,
    files: z.array(z.strictObject({ name: z.string(), bytes: z.int(), sha256: z.string() })).min(1),
  })
  .meta({ title: 'Eachacre hand-off, version 1' });

export type HandOffDocument = z.output<typeof handOffSchema>;

export const MANIFEST = 'handoff.json';
export const LEDGER_TABLE = 'ledger.csv';
/** Folder that holds what the planter is given, and nothing else. */
export const PLANTER = 'planter/';

/** Of AREA_AC. A square metre is 2.5e-4 ac: nine decimals tell it to four parts in a million. */
export const AREA_DECIMALS = 9;

/** The caution every hand-off carries. */
export const NOTICE =
  'Rates are estimates from models and past seasons. The label, the seed tag, stewardship and refuge agreements and local rules come first. ' +
  'Treated seed is a pesticide-treated article: follow its tag, and keep it out of food, feed and oil. Check the planter against the map on the first round.';

const listing = z.looseObject({
  document: z.literal('eachacre-handoff'),
  files: z.array(z.looseObject({ name: z.string() })),
});

/** The names a manifest lists, even one that says less or more than this version does; none when the bytes are no manifest. */
export function listedNames(manifest: Uint8Array): string[] {
  try {
    const parsed = listing.safeParse(JSON.parse(new TextDecoder().decode(manifest)));
    return parsed.success ? parsed.data.files.map((file) => file.name) : [];
  } catch {
    return [];
  }
}
