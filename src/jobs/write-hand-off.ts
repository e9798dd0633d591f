import { ringToLonLat } from '../engine/geodesy/field-frame.ts';
import { type Issue, Refusal } from '../engine/issue.ts';
import { M2_PER_ACRE } from '../engine/math/units.ts';
import type { Ledger } from '../engine/prescription/ledger.ts';
import type { OrderLine } from '../engine/prescription/order.ts';
import { writeCsv } from '../formats/csv/write.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { writeGeojson } from '../formats/geojson/write.ts';
import type { LayerField, PolygonLayer } from '../formats/polygon-layer.ts';
import { sha256Hex } from '../formats/sha256.ts';
import { writeShapefile } from '../formats/shapefile/write.ts';
import type { Plan } from '../plan/schema.ts';
import type { FieldResult, Results } from '../run/results.ts';
import type { RunControl } from '../run/walk.ts';
import type { HandOff } from './calls.ts';
import { drawSpots } from './draw-spots.ts';
import { fieldExtents } from './field-extent.ts';
import { AREA_DECIMALS, type HandOffDocument, LEDGER_TABLE, MANIFEST, NOTICE } from './hand-off-document.ts';
import { ledgerDocument } from './ledger-document.ts';
import { prove } from './prove.ts';

/** What each column of the prescription means; the unit of the rate is in its name because the formats have no place for it. */
const COLUMNS = {
  ID: 'number of the polygon, from 1',
  ZONE: 'number of the management zone, from 1',
  ZONENAME: 'name of the management zone',
  PRODUCT: 'hybrid or variety to plant',
  SEEDS_AC: 'seeding rate, seeds per international acre',
  AREA_AC: 'area of the polygon, international acres',
};

/**
 * Write the hand-off of a run and prove it: the bytes are read back by readers that are not ours and reconciled with the ledger. On any mismatch nothing
 * is released. Files: NAME.geojson, planter/NAME.shp and its sidecars, ledger.csv, READ-ME.txt, handoff.json (the manifest).
 */
export async function writeHandOff(plan: Plan, results: Results, control: RunControl = {}): Promise<HandOff> {
  const { field, zoning, choices, prescription, ledger, lineup } = results;
  if (!field || !zoning || !choices || !prescription || !ledger) {
    return {
      files: [],
      proof: null,
      issues: [
        withheld(
          'hand-off-not-ready',
          'no ledger',
          'a run that reached its rates',
          'Mend what the run reports',
        ),
      ],
    };
  }
  try {
    control.onProgress?.({ step: 'Writing the files', share: 0.05 });
    const layer = layerOf(plan, results, field);
    const shapefile = writeShapefile(layer).map((file) => ({ ...file, name: `planter/${file.name}` }));
    const written = [...writeGeojson(layer), ...shapefile, ledgerCsv(ledger), readMe(plan, results, ledger)];
    const manifest: HandOffDocument = {
      document: 'eachacre-handoff',
      version: 1,
      plan: {
        name: plan.name,
        season: plan.season,
        crop: plan.crop,
        sha256: await sha256Hex(jsonBytes(plan)),
      },
      notice: NOTICE,
      features: layer.features.length,
      field: {
        area_m2: field.area_m2,
        acres: field.acres,
        ...fieldExtents(field.frame, field.region),
      },
      spots: drawSpots(field, zoning, choices, lineup, plan.seed),
      columns: COLUMNS,
      ledger: ledgerDocument(ledger, lineup),
      files: await Promise.all(
        written.map(async ({ name, bytes }) => ({
          name,
          bytes: bytes.length,
          sha256: await sha256Hex(bytes),
        })),
      ),
    };
    const files: FileBytes[] = [...written, { name: MANIFEST, bytes: jsonBytes(manifest) }];
    const proof = await prove(files, control);
    if (proof.ok) return { files, proof, issues: [] };
    const failed = proof.checks.filter((check) => !check.ok);
    return {
      files: [],
      proof,
      issues: failed.map((check) =>
        withheld(
          'proof-failed',
          `${check.what}: ${check.found}`,
          check.expected,
          'Please report this: the files were not released',
        ),
      ),
    };
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    return { files: [], proof: null, issues: [thrown.issue] };
  }

  function layerOf(of: Plan, from: Results, on: FieldResult): PolygonLayer {
    const features = (from.prescription ?? []).map((feature, k) => {
      const zone = from.zoning?.zones[feature.zone];
      return {
        rings: feature.polygons.map((polygon) =>
          [polygon.outer, ...polygon.holes].map((ring) => ringToLonLat(on.frame, ring)),
        ),
        values: [
          k + 1,
          feature.zone + 1,
          zone?.name ?? '',
          lineup[feature.product].name,
          feature.seedsPerAc,
          feature.area_m2 / M2_PER_ACRE,
        ],
      };
    });
    return {
      name: of.handoff.name,
      features,
      fields: [
        { name: 'ID', kind: 'number', width: 9, decimals: 0 },
        { name: 'ZONE', kind: 'number', width: 4, decimals: 0 },
        textField(
          'ZONENAME',
          features.map(({ values }) => String(values[2])),
        ),
        textField(
          'PRODUCT',
          features.map(({ values }) => String(values[3])),
        ),
        { name: 'SEEDS_AC', kind: 'number', width: 9, decimals: 0 },
        { name: 'AREA_AC', kind: 'number', width: 16, decimals: AREA_DECIMALS },
      ],
      // The job's date, not the clock's: the same plan gives the same bytes on any day.
      date: { year: of.season, month: 1, day: 1 },
      notes: { columns: COLUMNS, notice: NOTICE },
    };
  }
}

/** As wide as its longest value in UTF-8, so that no name is too long. */
function textField(name: string, values: readonly string[]): LayerField {
  const utf8 = new TextEncoder();
  const width = [...new Set(values)].reduce((most, value) => Math.max(most, utf8.encode(value).length), 10);
  return { name, kind: 'text', width, decimals: 0 };
}

function ledgerCsv(ledger: Ledger): FileBytes {
  const round = (value: number, decimals: number) => Number(value.toFixed(decimals));
  const rows = ledger.byZone.map((row) => [
    row.zone,
    row.name,
    row.productName,
    round(row.acres, 3),
    Math.round(row.plantsPerAc),
    row.seedsPerAc,
    row.seeds,
    round(row.units, 2),
    round(row.seedCost, 2),
    round(row.treatmentCost, 2),
    round(row.yield_buPerAc, 1),
    round(row.marginPerAc, 2),
  ]);
  const { total } = ledger;
  const head = [
    'zone',
    'name',
    'product',
    'acres',
    'plants_per_ac',
    'seeds_per_ac',
    'seeds',
    'units',
    'seed_cost',
    'treatment_cost',
    'expected_yield_bu_per_ac',
    'margin_per_ac',
  ];
  return {
    name: LEDGER_TABLE,
    bytes: writeCsv([
      head,
      ...rows,
      [
        '',
        'Field',
        '',
        round(total.acres, 3),
        '',
        '',
        total.seeds,
        round(total.units, 2),
        round(total.seedCost, 2),
        round(total.treatmentCost, 2),
        '',
        '',
      ],
    ]),
  };
}

function orderText({ units, boxes, spareSeeds }: OrderLine): string {
  const much = boxes === null ? `${units} units` : `${boxes} boxes of ${units / boxes} units`;
  return spareSeeds > 0 ? `${much}, ${spareSeeds.toLocaleString('en-US')} seeds of it to spare` : much;
}

function readMe(plan: Plan, results: Results, ledger: Ledger): FileBytes {
  const { name } = plan.handoff;
  const lines = [
    `${plan.name}, ${plan.crop} ${plan.season}`,
    '',
    NOTICE,
    '',
    `planter/${name}.shp    the prescription for the planter, with its .shx .dbf .prj .cpg; WGS 84 longitude and latitude`,
    `${name}.geojson        the same for a map`,
    'ledger.csv            acres, seeds, units and dollars by zone',
    `${MANIFEST}          the manifest: what the files hold, with their SHA-256`,
    '',
    'The rate is in the column SEEDS_AC, in seeds per acre. Outside the polygons no rate is given: the planter uses its own.',
    ...Object.entries(COLUMNS).map(([column, meaning]) => `  ${column.padEnd(9)} ${meaning}`),
    '',
    ...ledger.byProduct.map(
      (row, k) =>
        `${row.productName}: ${row.acres.toFixed(1)} ac, ${row.seeds.toLocaleString('en-US')} seeds, ${row.units.toFixed(1)} units; to order ${orderText(ledger.order[k])}`,
    ),
    `Field: ${(results.field?.acres ?? 0).toFixed(1)} ac (international acres, on the ellipsoid), ${ledger.total.seeds.toLocaleString('en-US')} seeds`,
    '',
  ];
  return { name: 'READ-ME.txt', bytes: new TextEncoder().encode(lines.join('\r\n')) };
}

function jsonBytes(value: unknown): Uint8Array {
  return new TextEncoder().encode(`${JSON.stringify(value, null, 2)}\n`);
}

function withheld(code: string, found: string, expected: string, remedy: string): Issue {
  return {
    code,
    severity: 'error',
    where: 'hand-off',
    found,
    expected,
    effect: 'The hand-off is withheld',
    remedy,
  };
}
